#include <fmt/format.h>

#include <algorithm>

#include "print/caption.h"
#include "print/report_sections.h"
#include "print/ruled_table.h"

namespace stripbook::print {

namespace {

constexpr std::size_t most_changes = 12;
constexpr std::size_t most_note_lines = 12;
constexpr std::size_t most_cell_lines = 4;

std::string what_changed(const book::Change& change) {
    const std::string field = change.field.empty() ? "record" : change.field;
    if (change.before.empty()) {
        return change.after.empty() ? field : fmt::format("{} set to \"{}\"", field, change.after);
    }
    if (change.after.empty()) {
        return fmt::format("{} cleared; it was \"{}\"", field, change.before);
    }
    return fmt::format("{} changed to \"{}\"; it was \"{}\"", field, change.after, change.before);
}

std::vector<std::string> cells_of(const book::Change& change, PrintableText& printable) {
    const auto in_book = [&](const std::string& text) {
        return printable(text, "history of this record", "the book");
    };
    return {time_for_people(change.at), in_book(change.who), in_book(what_changed(change)),
            in_book(change.how)};
}

}  // namespace

void draw_notes(ReportDesk& desk) {
    const auto& notes = desk.part().notes;
    std::vector<std::vector<std::string>> rows;
    for (const auto& [heading, cell] : notes) {
        if (!cell.empty()) {
            rows.push_back({desk.printable(heading, "heading of a note"), desk.printable(cell, "note")});
        }
    }
    if (rows.empty()) {
        return;
    }
    begin_section(desk, "Notes", 16);
    draw_text_table(desk.flow, {{"column of the parts list", 50}, {"note", 130}}, rows, most_note_lines);
}

void draw_history(ReportDesk& desk) {
    const auto& history = desk.content.part_file.history;
    begin_section(desk, "History", 16);
    if (history.empty()) {
        desk.flow.paragraph("The record has not been changed since it was made.", type::body, 1);
        return;
    }
    const std::size_t earlier = history.size() - std::min(history.size(), most_changes);
    if (earlier > 0) {
        desk.flow.paragraph(fmt::format("The last {} changes of this record, and {} earlier in the book.",
                                        most_changes, earlier),
                            type::small, 1);
        desk.flow.move_down(1);
    }
    std::vector<std::vector<std::string>> rows;
    for (std::size_t i = earlier; i < history.size(); ++i) {
        rows.push_back(cells_of(history[i], desk.printable));
    }
    draw_text_table(desk.flow, {{"when (UTC)", 33}, {"who", 28}, {"what", 82}, {"how", 37}}, rows,
                    most_cell_lines);
}

void draw_sign_off(ReportDesk& desk) {
    ReportFlow& flow = desk.flow;
    constexpr double line_height = 12;
    constexpr double date_width = 40;
    constexpr double gap = 6;
    begin_section(desk, "Sign-off", 3 * line_height);
    for (const char* words : {"inspected by", "decided by", "accepted by"}) {
        flow.move_down(line_height - 4);
        const double split = flow.right() - date_width;
        flow.sheet().line(flow.left(), flow.y(), split - gap, flow.y());
        flow.sheet().line(split, flow.y(), flow.right(), flow.y());
        flow.sheet().text(flow.left(), flow.y() + 3, words, type::label);
        flow.sheet().text(split, flow.y() + 3, "date", type::label);
        flow.move_down(4);
    }
}

}  // namespace stripbook::print
