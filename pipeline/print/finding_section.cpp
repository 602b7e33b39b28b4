#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "print/inspection_words.h"
#include "print/report_sections.h"
#include "print/ruled_table.h"

namespace stripbook::print {

namespace {

constexpr double box_side = 3.2;
constexpr double row_height = 7.5;
constexpr double picture_side = 42;
constexpr double picture_gap = 3;
constexpr std::size_t most_pictures = 2;
constexpr std::size_t most_lines = 8;

const book::PartPhoto* photo_of(const ReportDesk& desk, book::PhotoNumber number) {
    const auto& photos = desk.content.part_file.photos;
    const auto found = std::find_if(photos.begin(), photos.end(),
                                    [number](const book::PartPhoto& p) { return p.photo.number == number; });
    return found == photos.end() ? nullptr : &*found;
}

// The finding's photo in a square, with its number under it. Returns whether it could be drawn.
bool draw_picture(ReportDesk& desk, book::PhotoNumber number, double x, double y) {
    const auto* photo = photo_of(desk, number);
    const auto copy = desk.content.copies.find(number);
    if (photo == nullptr || copy == desk.content.copies.end() || copy->second.jpeg.empty()) {
        return false;
    }
    const auto image = desk.image_of(number);
    if (!image) {
        return false;
    }
    const int orientation = photo->photo.orientation;
    const bool on_its_side = orientation >= 5 && orientation <= 8;
    double aspect = static_cast<double>(copy->second.width_px) / std::max(1, copy->second.height_px);
    aspect = on_its_side ? 1 / aspect : aspect;
    const double width = std::min(picture_side, picture_side * aspect);
    const BoxMm box{x, y, width, width / aspect};
    desk.flow.sheet().picture(*image, box, orientation);
    desk.flow.sheet().frame(box);
    desk.flow.sheet().text(x, box.bottom() + 3, number.text(), type::label);
    return true;
}

std::vector<std::string> lines_of(ReportDesk& desk, const book::Finding& finding, double width) {
    std::vector<std::string> lines;
    const auto add = [&](const std::string& label, const std::string& text) {
        if (text.empty()) {
            return;
        }
        const std::string words = label + desk.printable(text, "finding", "the book");
        const auto wrapped = desk.flow.lettering().wrapped(words, type::body, width, most_lines);
        lines.insert(lines.end(), wrapped.begin(), wrapped.end());
    };
    add("where: ", finding.where);
    add("how bad: ", finding.how_bad);
    std::string photos;
    for (const auto& photo : finding.photos) {
        photos += (photos.empty() ? "" : ", ") + photo.text();
    }
    add("photos: ", photos);
    add("", by_and_when(finding.entry));
    return lines;
}

// Words on the left, the photos beside them.
void draw_finding(ReportDesk& desk, const book::Finding& finding) {
    ReportFlow& flow = desk.flow;
    const std::size_t pictures = std::min(finding.photos.size(), most_pictures);
    const double pictures_width = static_cast<double>(pictures) * (picture_side + picture_gap);
    const auto lines = lines_of(desk, finding, flow.width() - pictures_width);
    const double step = line_height_mm(type::body);
    const double words_height = 5 + static_cast<double>(lines.size()) * step;
    const double height = std::max(words_height, pictures > 0 ? picture_side + 4 : 0);
    flow.reserve(height + 3);
    double y = flow.y() + 3.6;
    flow.sheet().text(flow.left(), y, finding.kind, type::body_bold);
    for (const auto& line : lines) {
        y += step;
        flow.sheet().text(flow.left(), y, line, type::body);
    }
    double x = flow.right() - pictures_width + picture_gap;
    for (std::size_t i = 0; i < pictures; ++i) {
        static_cast<void>(draw_picture(desk, finding.photos[i], x, flow.y() + 0.5));
        x += picture_side + picture_gap;
    }
    flow.move_down(height + 1);
    flow.sheet().line(flow.left(), flow.y(), flow.right(), flow.y());
    flow.move_down(1);
}

// Nothing was found yet: the kinds to tick by hand.
void draw_form(ReportFlow& flow) {
    const std::vector<Column> columns{{"seen", 30}, {"where", 65}, {"how bad", 50}, {"photo", 20}};
    const auto rows = static_cast<int>(book::finding_kinds.size());
    small_heading(flow, "Findings", 5 + rows * row_height);
    const auto edges = column_edges(flow, columns);
    draw_empty_table(flow, columns, rows, row_height);
    double y = flow.y() - rows * row_height;
    for (const char* word : book::finding_kinds) {
        flow.sheet().tick_box(edges[0] + 0.3, y + (row_height - box_side) / 2, box_side, false);
        flow.sheet().text(edges[0] + box_side + 2, y + row_height / 2 + 1.1, word, type::body);
        y += row_height;
    }
}

std::string joined(const std::vector<std::string>& lines) {
    return fmt::format("{}", fmt::join(lines, "; "));
}

std::vector<std::vector<std::string>> reading_rows(ReportDesk& desk,
                                                   const std::vector<book::JudgedFeature>& features) {
    std::vector<std::vector<std::string>> rows;
    for (const auto& feature : features) {
        for (const auto& row : feature_rows(feature, {desk.content.in_inches, false})) {
            std::vector<std::string> cells{row.feature,    row.value,       row.expanded,
                                           row.instrument, row.by_and_when, joined(row.judgements)};
            for (auto& cell : cells) {
                cell = desk.printable(cell, "gauge reading", "the book");
            }
            rows.push_back(std::move(cells));
        }
    }
    return rows;
}

}  // namespace

void draw_findings(ReportDesk& desk) {
    const auto& findings = desk.content.part_file.inspection.findings;
    const bool any = std::any_of(findings.begin(), findings.end(),
                                 [](const book::Finding& f) { return f.entry.stands(); });
    if (!any) {
        if (desk.content.with_forms) {
            draw_form(desk.flow);
        }
        return;
    }
    small_heading(desk.flow, "Findings", picture_side + 8);
    for (const auto& finding : findings) {
        if (finding.entry.stands()) {
            draw_finding(desk, finding);
        }
    }
}

void draw_gauge_readings(ReportDesk& desk) {
    ReportFlow& flow = desk.flow;
    const auto& file = desk.content.part_file;
    const auto rows = reading_rows(desk, book::judged_features(file.inspection, file.measurements));
    if (rows.empty() && !desk.content.with_forms) {
        return;
    }
    small_heading(flow, "Gauge readings", 5 + 2 * row_height);
    if (!rows.empty()) {
        constexpr std::size_t most_cell_lines = 5;
        draw_text_table(flow,
                        {{"feature", 34},
                         {"reading", 28},
                         {"U (k = 2)", 18},
                         {"instrument", 28},
                         {"who, when", 26},
                         {"judged: limit (source)", 46}},
                        rows, most_cell_lines);
        flow.move_down(1.5);
        flow.paragraph(judgement_note, type::small, 3);
        flow.move_down(3);
    }
    if (!desk.content.with_forms) {
        return;
    }
    draw_empty_table(flow,
                     {{"feature", 46},
                      {"limit and its source", 36},
                      {"reading, unit", 28},
                      {"instrument", 28},
                      {"who", 20},
                      {"date", 22}},
                     rows.empty() ? 6 : 2, row_height);
}

}  // namespace stripbook::print
