#include "print/report_flow.h"

#include <fmt/format.h>

namespace stripbook::print {

ReportFlow::ReportFlow(PdfDocument& document, const Paper& paper) : document_(document), paper_(paper) {
    new_page();
}

void ReportFlow::new_page() {
    sheet_ = &document_.add_sheet(paper_.width, paper_.height);
    y_ = body_top();
}

void ReportFlow::reserve(double mm) {
    if (mm > left_on_page() && y_ > body_top()) {
        new_page();
    }
}

void ReportFlow::heading(std::string_view words, double mm) {
    constexpr double space_above = 6;
    const bool at_top = y_ <= body_top();
    reserve(heading_height + (at_top ? 0 : space_above) + mm);
    if (y_ > body_top()) {
        y_ += space_above;
    }
    sheet_->text(left(), y_ + 4.5, words, type::heading);
    y_ += heading_height;
}

void ReportFlow::paragraph(std::string_view words, const Type& type, double x, double width,
                           std::size_t most_lines) {
    for (const std::string& line : lettering().wrapped(words, type, width, most_lines)) {
        const double height = line_height_mm(type);
        reserve(height);
        sheet_->text(x, y_ + 0.78 * height, line, type);
        y_ += height;
    }
}

void ReportFlow::paragraph(std::string_view words, const Type& type, std::size_t most_lines) {
    paragraph(words, type, left(), width(), most_lines);
}

void ReportFlow::ruled_lines(int count, double distance) {
    for (int i = 0; i < count; ++i) {
        reserve(distance);
        y_ += distance;
        sheet_->line(left(), y_, right(), y_);
    }
}

void ReportFlow::finish(const RunningWords& words) {
    auto& sheets = document_.sheets();
    for (std::size_t i = 0; i < sheets.size(); ++i) {
        draw_head(sheets[i], words);
        draw_foot(sheets[i], words, i + 1, sheets.size());
    }
}

void ReportFlow::draw_head(Sheet& sheet, const RunningWords& words) const {
    const double baseline = margin_top + 3;
    constexpr std::string_view kind = "Condition report";
    sheet.text(left(), baseline, kind, type::small_bold);
    const double machine_x = left() + lettering().width_mm(kind, type::small_bold) + 4;
    const double tag_x = right() - lettering().width_mm(words.tag, type::tag_in_line);
    const double name_width = (tag_x - machine_x) / 2 - 4;
    sheet.text(machine_x, baseline, lettering().cut(words.machine, type::small, name_width), type::small);
    const std::string name = lettering().cut(words.name, type::small, name_width);
    sheet.text_to_the_left_of(tag_x - 3, baseline, name, type::small);
    sheet.text(tag_x, baseline, words.tag, type::tag_in_line);
    sheet.line(left(), baseline + 1.8, right(), baseline + 1.8);
}

void ReportFlow::draw_foot(Sheet& sheet, const RunningWords& words, std::size_t page,
                           std::size_t pages) const {
    const double baseline = paper_.height - margin_bottom - 0.8;
    sheet.line(left(), baseline - 3.6, right(), baseline - 3.6);
    sheet.text(left(), baseline, words.tag, type::tag_in_line);
    sheet.text_around((left() + right()) / 2, baseline,
                      fmt::format("made {} by {}", words.date, words.program), type::small);
    sheet.text_to_the_left_of(right(), baseline, fmt::format("page {} of {}", page, pages), type::small);
}

}  // namespace stripbook::print
