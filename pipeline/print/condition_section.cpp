#include <algorithm>
#include <array>
#include <string>
#include <vector>

#include "print/report_sections.h"
#include "print/ruled_table.h"

namespace stripbook::print {

namespace {

constexpr std::array finding_words{"wear",          "crack",  "corrosion",     "distortion",
                                   "missing piece", "seized", "thread damage", "earlier repair"};

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

void small_heading(ReportFlow& flow, std::string_view words, double mm) {
    constexpr double height = 6;
    constexpr double space_above = 3.5;
    flow.reserve(space_above + height + mm);
    flow.move_down(space_above);
    flow.sheet().text(flow.left(), flow.y() + 3.6, words, type::body_bold);
    flow.move_down(height);
}

// A framed box: a heading and one caution a line, with hanging indents.
void draw_cautions(ReportFlow& flow) {
    constexpr double inset = 3;
    constexpr double indent = 3;
    const double step = line_height_mm(type::small);
    std::vector<std::vector<std::string>> items;
    std::size_t lines = 1;
    for (const char* caution : cautions) {
        items.push_back(flow.lettering().wrapped(caution, type::small, flow.width() - 2 * inset - indent, 3));
        lines += items.back().size();
    }
    const double height = static_cast<double>(lines) * step + 2 * inset;
    flow.reserve(height);
    flow.sheet().frame({flow.left(), flow.y(), flow.width(), height}, rule_mm);
    const double x = flow.left() + inset;
    double y = flow.y() + inset + 0.75 * step;
    flow.sheet().text(x, y, "Before work on this part", type::small_bold);
    for (const auto& item : items) {
        flow.sheet().text(x, y + step, "\u2013", type::small);
        for (const std::string& line : item) {
            y += step;
            flow.sheet().text(x + indent, y, line, type::small);
        }
    }
    flow.move_down(height + 1);
}

void draw_condition(ReportDesk& desk) {
    ReportFlow& flow = desk.flow;
    small_heading(flow, "Condition", 3 * row_height);
    const std::string& condition = desk.part().condition;
    if (condition.empty()) {
        flow.ruled_lines(4);
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
    flow.ruled_lines(2);
}

void draw_findings(ReportFlow& flow) {
    const std::vector<Column> columns{{"seen", 30}, {"where", 65}, {"how bad", 50}, {"photo", 20}};
    const auto rows = static_cast<int>(finding_words.size());
    small_heading(flow, "Findings", 5 + rows * row_height);
    const auto edges = column_edges(flow, columns);
    draw_empty_table(flow, columns, rows, row_height);
    double y = flow.y() - rows * row_height;
    for (const char* word : finding_words) {
        flow.sheet().tick_box(edges[0] + 0.3, y + (row_height - box_side) / 2, box_side, false);
        flow.sheet().text(edges[0] + box_side + 2, y + row_height / 2 + 1.1, word, type::body);
        y += row_height;
    }
}

void draw_gauge_readings(ReportFlow& flow) {
    constexpr int rows = 6;
    small_heading(flow, "Gauge readings", 5 + rows * row_height);
    draw_empty_table(flow,
                     {{"feature", 46},
                      {"limit and its source", 36},
                      {"reading, unit", 28},
                      {"instrument", 28},
                      {"who", 20},
                      {"date", 22}},
                     rows, row_height);
}

Type path_type(const book::Part& part, const char* word) {
    return part.path == word ? type::body_bold : type::body;
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
    flow.sheet().text(flow.left(), flow.y() + 2, "Why, and what is to be done", type::label);
    flow.ruled_lines(2);
}

}  // namespace

void draw_condition_and_path(ReportDesk& desk) {
    begin_section(desk, "Condition and path", 60);
    draw_cautions(desk.flow);
    draw_condition(desk);
    draw_findings(desk.flow);
    draw_gauge_readings(desk.flow);
    draw_path(desk);
}

}  // namespace stripbook::print
