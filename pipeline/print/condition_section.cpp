#include <algorithm>
#include <array>
#include <string>
#include <vector>

#include "print/path_words.h"
#include "print/report_sections.h"

namespace stripbook::print {

namespace {

// The usual cautions of a workshop that strips old machines: common practice, no source.
constexpr std::array cautions{
    "Local codes and licensed practice come first.",
    "Heavy parts: sling or support before the last bolt; nobody below.",
    "Springs, pressure and held weight: let off the load before undoing.",
    "Old linings, lagging and gaskets may hold asbestos: do not dry-brush, grind or blow off.",
    "Old paint may hold lead: no dry sanding or burning.",
    "Sharp edges, and remains of fuel and oil: gloves; no sparks.",
    "A dimension from a photo is for identification; fits and load-bearing decisions need an instrument.",
};

constexpr double box_side = 3.2;
constexpr double row_height = 7.5;
constexpr std::size_t most_condition_lines = 30;

// A framed box: a heading and one caution a line, with hanging indents.
void draw_box(ReportFlow& flow, std::string_view heading, const std::vector<std::string>& entries,
              const Type& type) {
    constexpr double inset = 3;
    constexpr double indent = 3;
    constexpr std::size_t most_lines = 5;
    const double step = line_height_mm(type);
    std::vector<std::vector<std::string>> items;
    std::size_t lines = 1;
    for (const std::string& entry : entries) {
        items.push_back(flow.lettering().wrapped(entry, type, flow.width() - 2 * inset - indent, most_lines));
        lines += items.back().size();
    }
    const double height = static_cast<double>(lines) * step + 2 * inset;
    flow.reserve(height);
    flow.sheet().frame({flow.left(), flow.y(), flow.width(), height}, rule_mm);
    const double x = flow.left() + inset;
    double y = flow.y() + inset + 0.75 * step;
    flow.sheet().text(x, y, heading, type::small_bold);
    for (const auto& item : items) {
        flow.sheet().text(x, y + step, "\u2013", type);
        for (const std::string& line : item) {
            y += step;
            flow.sheet().text(x + indent, y, line, type);
        }
    }
    flow.move_down(height + 1);
}

// What is known of this part first, then what holds for every old part.
void draw_cautions(ReportDesk& desk) {
    std::vector<std::string> known;
    for (const std::string& line : book::cautions_for(desk.content.part_file.hazards)) {
        known.push_back(desk.printable(line, "hazard", "the book"));
    }
    if (!known.empty()) {
        draw_box(desk.flow, "Hazards of this part", known, type::body);
        desk.flow.move_down(2);
    }
    draw_box(desk.flow, "Before work on this part", {cautions.begin(), cautions.end()}, type::small);
}

void draw_condition(ReportDesk& desk) {
    ReportFlow& flow = desk.flow;
    small_heading(flow, "Condition", 3 * row_height);
    const std::string& condition = desk.part().condition;
    if (condition.empty()) {
        if (!desk.content.with_forms) {
            flow.paragraph("Not yet put into words.", type::body, 1);
        } else {
            flow.ruled_lines(4);
        }
        return;
    }
    const std::string words = desk.printable(condition, "condition");
    flow.paragraph(words, type::body, most_condition_lines);
    const auto all = flow.lettering().wrapped(words, type::body, flow.width(), most_condition_lines + 1);
    if (all.size() > most_condition_lines) {
        desk.printable.add_remark(desk.tag() +
                                  ": the condition is too long for the report and ends in an ellipsis there; "
                                  "the book has all of it");
    }
    if (desk.content.with_forms) {
        flow.ruled_lines(2);
    }
}

Type path_type(const book::Part& part, const char* word) {
    return part.path == word ? type::body_bold : type::body;
}

// What was said with the decision, one line each, and the work with a box to tick.
void draw_path_details(ReportDesk& desk) {
    ReportFlow& flow = desk.flow;
    const auto& file = desk.content.part_file;
    constexpr std::size_t most_lines = 4;
    for (const std::string& line : path_lines(file.path, desk.content.currency)) {
        flow.paragraph(desk.printable(line, "path", "the book"), type::body, most_lines);
    }
    for (const auto& work : file.works) {
        if (!work.dropped_why.empty()) {
            continue;
        }
        const double step = line_height_mm(type::body) + 0.8;
        flow.reserve(step);
        flow.sheet().tick_box(flow.left() + 0.2, flow.y() + 0.6, box_side, !work.is_open());
        flow.move_down(0.2);
        flow.paragraph(desk.printable(words_of(work), "work", "the book"), type::body,
                       flow.left() + box_side + 1.6, flow.width() - box_side - 1.6, most_lines);
        flow.move_down(0.8);
    }
    flow.move_down(2);
}

void draw_path(ReportDesk& desk) {
    ReportFlow& flow = desk.flow;
    constexpr double to_word = box_side + 1.6;
    small_heading(flow, "Path", 8 + 2 * row_height);
    double words_width = 0;
    for (const char* word : book::path_words) {
        words_width += to_word + flow.lettering().width_mm(word, path_type(desk.part(), word));
    }
    const double gap = (flow.width() - words_width) / static_cast<double>(book::path_words.size() - 1);
    double x = flow.left();
    for (const char* word : book::path_words) {
        const Type type = path_type(desk.part(), word);
        flow.sheet().tick_box(x + 0.2, flow.y() + 0.8, box_side, desk.part().path == word);
        flow.sheet().text(x + to_word, flow.y() + 3.6, word, type);
        x += to_word + flow.lettering().width_mm(word, type) + gap;
    }
    flow.move_down(8);
    draw_path_details(desk);
    if (desk.content.with_forms) {
        flow.sheet().text(flow.left(), flow.y() + 2, "Why, and what is to be done", type::label);
        flow.ruled_lines(2);
    }
}

}  // namespace

void small_heading(ReportFlow& flow, std::string_view words, double mm) {
    constexpr double height = 6;
    constexpr double space_above = 3.5;
    flow.reserve(space_above + height + mm);
    flow.move_down(space_above);
    flow.sheet().text(flow.left(), flow.y() + 3.6, words, type::body_bold);
    flow.move_down(height);
}

void draw_condition_and_path(ReportDesk& desk) {
    begin_section(desk, "Condition and path", 60);
    draw_cautions(desk);
    draw_condition(desk);
    draw_findings(desk);
    draw_gauge_readings(desk);
    draw_path(desk);
}

}  // namespace stripbook::print
