#include "print/wanted_section.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "book/hazards.h"
#include "print/wanted_sheet.h"

namespace stripbook::print {

namespace {

constexpr std::size_t most_name_lines = 3;
constexpr std::size_t most_lines = 6;
constexpr double label_width = 38;

// A label at the left, the words beside it, a hairline above.
void draw_field(ReportFlow& flow, const char* label, const std::string& words) {
    const double step = line_height_mm(type::body);
    const auto lines = flow.lettering().wrapped(words, type::body, flow.width() - label_width, most_lines);
    const double height = static_cast<double>(std::max<std::size_t>(1, lines.size())) * step + 2.4;
    flow.reserve(height);
    Sheet& sheet = flow.sheet();
    sheet.line(flow.left(), flow.y(), flow.right(), flow.y());
    double y = flow.y() + 1.2 + 0.78 * step;
    sheet.text(flow.left(), y, label, type::label);
    for (const auto& line : lines) {
        sheet.text(flow.left() + label_width, y, line, type::body);
        y += step;
    }
    flow.move_down(height);
}

std::string works_in_words(ReportDesk& desk) {
    std::vector<std::string> words;
    for (const auto& work : desk.content.part_file.works) {
        words.push_back(desk.printable(work.work, "work", "the book"));
    }
    return fmt::format("{}", fmt::join(words, "; "));
}

}  // namespace

std::string wanted_words(const std::string& path) {
    return "To " + path;
}

void draw_wanted_head(ReportDesk& desk, int quantity) {
    ReportFlow& flow = desk.flow;
    const auto& part = desk.part();
    const auto& path = desk.content.part_file.path;
    if (!desk.content.workshop.empty()) {
        flow.paragraph(desk.printable(desk.content.workshop, "workshop", "the settings"), type::body, 2);
        flow.move_down(1);
    }
    flow.paragraph(wanted_words(part.path), {Face::regular, 15}, 1);
    flow.paragraph(desk.name(), {Face::bold, 20}, most_name_lines);
    flow.move_down(3);
    draw_field(flow, "Our number", desk.tag());
    draw_field(flow, "Quantity", std::to_string(quantity));
    draw_field(flow, "Machine", desk.printable(desk.content.machine, "title of the machine", "the book"));
    const std::pair<const char*, std::string> optional[] = {
        {"Assembly", desk.printable(part.assembly, "assembly")},
        {"Where it sat", desk.printable(part.place, "place")},
        {"Drawing", desk.printable(path.drawing, "drawing", "the book")},
        {"Material", desk.printable(path.material, "material", "the book")},
        {"Work wanted", works_in_words(desk)},
        {"Condition of ours", desk.printable(part.condition, "condition")}};
    for (const auto& [label, words] : optional) {
        if (!words.empty()) {
            draw_field(flow, label, words);
        }
    }
    flow.sheet().line(flow.left(), flow.y(), flow.right(), flow.y());
    flow.move_down(4);
}

void draw_wanted_cautions(ReportDesk& desk) {
    ReportFlow& flow = desk.flow;
    std::vector<std::string> lines{std::string(not_a_drawing_note) +
                                   ". Dimensions are measured from photographs, each with its uncertainty U; "
                                   "the part is worn. Check every "
                                   "fit on the part itself, with an instrument."};
    for (const auto& line : book::cautions_for(desk.content.part_file.hazards)) {
        lines.push_back(desk.printable(line, "hazard", "the book"));
    }
    flow.paragraph(lines.front(), type::body_bold, most_lines);
    for (std::size_t i = 1; i < lines.size(); ++i) {
        flow.move_down(0.8);
        flow.paragraph("\u2013 " + lines[i], type::body, most_lines);
    }
    flow.move_down(2);
}

void draw_answer_lines(ReportFlow& flow) {
    constexpr int rows = 2;
    constexpr double row_height = 10;
    small_heading(flow, "Your offer", rows * row_height + 8);
    draw_empty_table(flow,
                     {{"offered by", 45},
                      {"price, currency", 30},
                      {"can be here by", 30},
                      {"condition, what differs, remarks", 75}},
                     rows, row_height);
}

void draw_wanted_list(ReportFlow& flow, const std::vector<WantedRow>& rows, const RowDrawn& on_row) {
    flow.heading("Parts asked for", 20);
    flow.paragraph(std::string(not_a_drawing_note) + ".", type::body_bold, 1);
    flow.move_down(2);
    std::vector<std::vector<std::string>> cells;
    cells.reserve(rows.size());
    for (const auto& row : rows) {
        cells.push_back(row.cells);
    }
    constexpr std::size_t most_cell_lines = 3;
    draw_text_table(flow, {{"our number", 28}, {"part", 82}, {"", 24}, {"quantity", 18}, {"page", 12}}, cells,
                    most_cell_lines, on_row);
}

}  // namespace stripbook::print
