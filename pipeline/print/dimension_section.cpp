#include <fmt/format.h>

#include <algorithm>
#include <opencv2/core.hpp>
#include <optional>

#include "book/number_text.h"
#include "measure/dimension.h"
#include "print/dimension_words.h"
#include "print/report_sections.h"
#include "print/ruled_table.h"

namespace stripbook::print {

namespace {

constexpr std::size_t most_lines = 4;
constexpr double caption_height = 8;

std::vector<std::string> row_of(const book::DimensionRecord& d, bool inch) {
    const ValueWords words = value_words(d, inch);
    std::string remarks = d.note;
    if (!d.hint.empty()) {
        remarks += (remarks.empty() ? "" : "; ") + ("near " + d.hint);
    }
    return {std::to_string(d.number), dimension_name(d), words.value, words.expanded, remarks};
}

std::vector<std::vector<std::string>> rows_of(const ReportDesk& desk, const book::Measurement& m) {
    std::vector<std::vector<std::string>> rows;
    rows.reserve(m.dimensions.size());
    for (const auto& dimension : m.dimensions) {
        rows.push_back(row_of(dimension, desk.content.in_inches));
    }
    return rows;
}

std::vector<Column> columns() {
    return {{"no.", 8}, {"dimension", 38}, {"value", 26}, {"U (k = 2)", 22}, {"remarks", 86}};
}

std::string how_measured(const ReportDesk& desk, const book::Measurement& m) {
    const std::string height =
        m.face_height_mm ? fmt::format("face {} mm above the bench", book::number_text(*m.face_height_mm))
                         : std::string("height of the face not told, which widens U");
    return fmt::format("{}{}: {} marker ({}); {}; {}.", m.photo.text(), m.by_hand ? ", by hand" : "",
                       m.marker, desk.printable(m.sheet, "marker sheet", "the book"),
                       desk.printable(m.lens, "lens", "the book"), height);
}

// What stands above the table: behind it a line could fall onto the next page, alone.
std::vector<std::string> lines_above_table(const ReportDesk& desk, const book::Measurement& m) {
    std::vector<std::string> lines{how_measured(desk, m)};
    for (const auto& note : m.notes) {
        lines.push_back(desk.printable(note, "note", "the book"));
    }
    return lines;
}

double height_of(const ReportFlow& flow, const std::vector<std::string>& lines) {
    double height = 0;
    for (const auto& line : lines) {
        const auto wrapped = flow.lettering().wrapped(line, type::small, flow.width(), most_lines);
        height += static_cast<double>(wrapped.size()) * line_height_mm(type::small);
    }
    return height;
}

constexpr double note_height = 8;

// No higher than half a page; somewhat less where its table then fits on the page. No size where there is no
// overlay.
cv::Size2d overlay_mm(const ReportDesk& desk, const book::Measurement& m) {
    const auto found = desk.content.overlays.find(m.id);
    if (found == desk.content.overlays.end() || found->second.jpeg.empty()) {
        return {};
    }
    constexpr double most = 0.5;  // of the page
    constexpr double least = 0.4;
    constexpr double gaps = 4;
    const auto& copy = found->second;
    const double aspect = static_cast<double>(copy.width_px) / std::max(1, copy.height_px);
    const double page = desk.flow.body_height();
    const double beside_table = page - ReportFlow::heading_height - note_height - caption_height - gaps -
                                height_of(desk.flow, lines_above_table(desk, m)) -
                                text_table_height(desk.flow, columns(), rows_of(desk, m), most_lines);
    const double high = beside_table > least * page ? std::min(most * page, beside_table) : most * page;
    const double width = std::min(desk.flow.width(), high * aspect);
    return {width, width / aspect};
}

// The photo with the dimensions drawn on it.
void draw_overlay(ReportDesk& desk, const book::Measurement& m) {
    ReportFlow& flow = desk.flow;
    const auto size = overlay_mm(desk, m);
    const auto image =
        size.empty() ? std::nullopt : flow.document().add_jpeg(desk.content.overlays.at(m.id).jpeg);
    if (!image) {
        return;
    }
    flow.reserve(size.height + caption_height);
    const BoxMm box{flow.left(), flow.y(), size.width, size.height};
    flow.sheet().picture(*image, box, 1);
    flow.sheet().frame(box);
    flow.move_down(box.height + 1.5);
    flow.paragraph(fmt::format("{}, with what was measured drawn on it; the numbers are those of the table.",
                               m.photo.text()),
                   type::small, 2);
    flow.move_down(2);
}

void draw_measurement(ReportDesk& desk, const book::Measurement& m) {
    ReportFlow& flow = desk.flow;
    if (!m.refusal.empty()) {
        flow.paragraph(fmt::format("{}: not measured: {}", m.photo.text(),
                                   desk.printable(m.refusal, "reason", "the book")),
                       type::body, most_lines);
        flow.move_down(2);
        return;
    }
    constexpr double begins_table = 12;
    draw_overlay(desk, m);
    const auto lines = lines_above_table(desk, m);
    flow.reserve(height_of(flow, lines) + begins_table);
    for (const auto& line : lines) {
        flow.paragraph(line, type::small, most_lines);
    }
    flow.move_down(1.5);
    draw_text_table(flow, columns(), rows_of(desk, m), most_lines);
    flow.move_down(4.5);
}

}  // namespace

void draw_dimensions(ReportDesk& desk) {
    const auto& measurements = desk.content.part_file.measurements;
    if (measurements.empty()) {
        return;
    }
    // The heading and its note stay with the first picture.
    constexpr double least = 40;
    begin_section(
        desk, "Dimensions from photos",
        std::max(least, note_height + overlay_mm(desk, measurements.front()).height + caption_height));
    desk.flow.paragraph(std::string(measure::no_gauge_note), type::body_bold, 2);
    desk.flow.move_down(2);
    for (const auto& measurement : measurements) {
        draw_measurement(desk, measurement);
    }
}

}  // namespace stripbook::print
