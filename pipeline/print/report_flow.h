// The pages of a report as they fill: margins, running head and foot, page breaks, headings, ruled blocks.
// Millimetres from the page's top-left corner.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "print/paper.h"
#include "print/pdf_document.h"

namespace stripbook::print {

namespace type {
inline constexpr Type body{Face::regular, 9};
inline constexpr Type body_bold{Face::bold, 9};
inline constexpr Type small{Face::regular, 7.5};
inline constexpr Type small_bold{Face::bold, 7.5};
inline constexpr Type label{Face::regular, 7};
inline constexpr Type heading{Face::bold, 12};
inline constexpr Type tag_in_line{Face::mono, 7.5};
}  // namespace type

/// What head and foot of every page say.
struct RunningWords {
    std::string kind = "Condition report";
    std::string machine;
    std::string tag;  ///< or what else stands out at the right
    std::string name;
    std::string program;  ///< "stripbook 0.1.0"
    std::string date;
};

class ReportFlow {
  public:
    /// The left margin leaves room for the holes of a ring binder.
    static constexpr double margin_left = 20;
    static constexpr double margin_right = 15;
    static constexpr double margin_top = 14;
    static constexpr double margin_bottom = 14;

    /// Begins on a new page of the document, which may have others before it.
    ReportFlow(PdfDocument& document, const Paper& paper);

    [[nodiscard]] double left() const { return margin_left; }
    [[nodiscard]] double right() const { return paper_.width - margin_right; }
    [[nodiscard]] double width() const { return right() - left(); }
    [[nodiscard]] double body_top() const { return margin_top + 9; }
    [[nodiscard]] double body_bottom() const { return paper_.height - margin_bottom - 8; }
    [[nodiscard]] double body_height() const { return body_bottom() - body_top(); }

    [[nodiscard]] PdfDocument& document() { return document_; }
    [[nodiscard]] const Lettering& lettering() const { return document_.lettering(); }
    [[nodiscard]] Sheet& sheet() { return *sheet_; }
    /// The page that is being filled, counted in the document from 0.
    [[nodiscard]] std::size_t page() const { return document_.sheets().size() - 1; }
    [[nodiscard]] std::size_t first_page() const { return first_page_; }
    [[nodiscard]] double y() const { return y_; }  ///< where the next block begins
    [[nodiscard]] double left_on_page() const { return body_bottom() - y_; }
    void move_down(double mm) { y_ += mm; }

    /// A new page unless `mm` are still free on this one; what is reserved at once is never split.
    void reserve(double mm);
    void new_page();

    /// A section's heading, kept together with the `mm` that follow it.
    void heading(std::string_view words, double mm);
    static constexpr double heading_height = 8;

    /// Text in the full width or in a column, breaking over pages between lines.
    void paragraph(std::string_view words, const Type& type, double x, double width, std::size_t most_lines);
    void paragraph(std::string_view words, const Type& type, std::size_t most_lines);

    /// Empty lines to write on.
    void ruled_lines(int count, double distance = 7.5);

    /// Head and foot on every page of this flow, which now are all there. Within a larger document,
    /// `pages_before` of it come before this flow's first.
    void finish(const RunningWords& words, std::optional<std::size_t> pages_before = {});

  private:
    void draw_head(Sheet& sheet, const RunningWords& words) const;
    void draw_foot(Sheet& sheet, const RunningWords& words, const std::string& left_words,
                   const std::string& right_words) const;

    PdfDocument& document_;
    Paper paper_;
    std::size_t first_page_;
    Sheet* sheet_ = nullptr;
    double y_ = 0;
};

}  // namespace stripbook::print
