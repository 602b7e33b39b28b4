// One page, drawn on in millimetres: x right, y down, origin at the page's top-left corner. Text stands on
// its baseline. Everything is black on white.
#pragma once

#include <hpdf.h>

#include <string_view>
#include <vector>

#include "print/lettering.h"

namespace stripbook::print {

class PdfDocument;

struct BoxMm {
    double x = 0;
    double y = 0;  ///< of the top edge
    double width = 0;
    double height = 0;
    [[nodiscard]] double right() const { return x + width; }
    [[nodiscard]] double bottom() const { return y + height; }
};

/// Line widths.
inline constexpr double hairline_mm = 0.12;
inline constexpr double rule_mm = 0.35;

class Sheet {
  public:
    Sheet(PdfDocument& document, HPDF_Page page, double width, double height)
        : document_(document), page_(page), width_(width), height_(height) {}

    [[nodiscard]] double width() const { return width_; }
    [[nodiscard]] double height() const { return height_; }
    [[nodiscard]] HPDF_Page page() const { return page_; }

    void text(double x, double baseline_y, std::string_view utf8, const Type& type);
    void text_to_the_left_of(double x, double baseline_y, std::string_view utf8, const Type& type);
    void text_around(double x, double baseline_y, std::string_view utf8, const Type& type);

    void line(double x1, double y1, double x2, double y2, double width = hairline_mm);
    void frame(const BoxMm& box, double width = hairline_mm);
    /// Filled rectangles in one path.
    void fill(const std::vector<BoxMm>& boxes);
    /// A line of dashes, level or upright or slanting.
    void dashes(double x1, double y1, double x2, double y2, double width = hairline_mm);
    /// Parallel lines across `box` and no farther, `distance` apart; `slope`: 0 level, 1 rising to the right,
    /// -1 falling.
    void hatch(const BoxMm& box, double distance, int slope, double width = hairline_mm);
    void circle(double x, double y, double diameter, double width = hairline_mm);
    /// A box to tick, `side` wide; ticked: with a cross in it.
    void tick_box(double x, double y, double side, bool ticked);

    /// A picture filling `box`, turned upright by its EXIF orientation (1..8, CIPA DC-008). `box` is the
    /// upright picture's; the turn is a matrix, the picture's own bytes stay as they are.
    void picture(HPDF_Image image, const BoxMm& box, int orientation);

  private:
    [[nodiscard]] HPDF_REAL x_pt(double x) const;
    [[nodiscard]] HPDF_REAL y_pt(double y) const;

    PdfDocument& document_;
    HPDF_Page page_;
    double width_;
    double height_;
};

}  // namespace stripbook::print
