// A printed sheet as a grey picture: white paper 255, black print 0. Positions are millimetres, x right, y
// down, origin at the sheet's top-left corner. Edges that fall inside a pixel are drawn by the share of the
// pixel they cover, so they lie exactly where the millimetres say.
//
//     pixel (i, j) covers x from i / s to (i + 1) / s and y from j / s to (j + 1) / s, s = pixels per
//     millimetre: with whole numbers at pixel centres, x mm lies at x * s - 0.5 pixels.
#pragma once

#include <opencv2/core.hpp>
#include <string>

#include "number/tag_layout.h"
#include "sample_maker/modules.h"

namespace stripbook::sample_maker {

class Sheet {
  public:
    /// A white sheet. The picture is rounded up to whole pixels; what lies beyond the paper is white too.
    /// Throws WrongUse when a side is not positive or the picture would exceed 400 megapixels.
    Sheet(double width_mm, double height_mm, double px_per_mm);

    /// Inked rectangles must not overlap: ink adds up, so that shared edges of neighbours leave no seam.
    void ink_rectangle(const cv::Rect2d& box_mm);
    /// The black modules of a square code of `side_mm` around `centre`.
    void ink_modules(const Modules& modules, number::PointMm centre, double side_mm);
    /// One line of text, as large as fits the box, against its left edge. Only ASCII has glyphs; others
    /// become '?'.
    void ink_text(const std::string& text, const cv::Rect2d& box_mm);
    /// A thin circle: the punched hole.
    void ink_circle(number::PointMm centre, double diameter_mm);

    [[nodiscard]] const cv::Mat1b& picture() const { return picture_; }

  private:
    double px_per_mm_;
    cv::Mat1b picture_;
};

}  // namespace stripbook::sample_maker
