#include "print/report_flow.h"

#include <fmt/format.h>

namespace stripbook::print {

ReportFlow::ReportFlow(PdfDocument& document, const Paper& paper)
    : document_(document), paper_(paper), first_page_(document.sheets().size()) {
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

void ReportFlow::finish(const RunningWords& words, std::optional<std::size_t> pages_before) {
    auto& sheets = document_.sheets();
    const std::size_t pages = sheets.size() - first_page_;
    for (std::size_t i = 0; i < pages; ++i) {
        Sheet& sheet = sheets[first_page_ + i];
        draw_head(sheet, words);
        if (pages_before) {
            // A leaf that fell out of the binder is put back by its part as well.
            const std::string own = pages > 1 ? fmt::format("{}  {}/{}", words.tag, i + 1, pages) : words.tag;
            draw_foot(sheet, words, own, fmt::format("page {}", *pages_before + i + 1));
        } else {
            draw_foot(sheet, words, words.tag, fmt::format("page {} of {}", i + 1, pages));
        }
    }
}

void ReportFlow::draw_head(Sheet& sheet, const RunningWords& words) const {
    const double baseline = margin_top + 3;
    sheet.text(left(), baseline, words.kind, type::small_bold);
    const double machine_x = left() + lettering().width_mm(words.kind, type::small_bold) + 4;
    const double tag_x = right() - lettering().width_mm(words.tag, type::tag_in_line);
    const double name_width = (tag_x - machine_x) / 2 - 4;
    sheet.text(machine_x, baseline, lettering().cut(words.machine, type::small, name_width), type::small);
    const std::string name = lettering().cut(words.name, type::small, name_width);
    sheet.text_to_the_left_of(tag_x - 3, baseline, name, type::small);
    sheet.text(tag_x, baseline, words.tag, type::tag_in_line);
    sheet.line(left(), baseline + 1.8, right(), baseline + 1.8);
}

void ReportFlow::draw_foot(Sheet& sheet, const RunningWords& words, const std::string& left_words,
                           const std::string& right_words) const {
    const double baseline = paper_.height - margin_bottom - 0.8;
    sheet.line(left(), baseline - 3.6, right(), baseline - 3.6);
    sheet.text(left(), baseline, left_words, type::tag_in_line);
    sheet.text_around((left() + right()) / 2, baseline,
                      fmt::format("made {} by {}", words.date, words.program), type::small);
    sheet.text_to_the_left_of(right(), baseline, right_words, type::small);
}

}  // namespace stripbook::print
