// Overall sizes of an outline.
#pragma once

#include <array>
#include <opencv2/core.hpp>
#include <vector>

namespace stripbook::measure {

struct Extent {
    double length_mm = 0;  ///< long side of the smallest rectangle around the outline
    double width_mm = 0;
    double largest_mm = 0;  ///< between the two points furthest apart
    double area_mm2 = 0;
    double length_bumps_mm =
        0;  ///< how high the low bumps are that stand out of the two sides it lies between
    double width_bumps_mm = 0;                ///< (half of it is in the size)
    std::array<cv::Point2d, 4> rectangle_mm;  ///< its first side is the long one
    std::array<cv::Point2d, 2> largest_ends_mm;
};

/// Of a closed outline of three points or more. The rectangle of least area has a side along a side of the
/// convex hull (Freeman and Shapira, 1975); where the outline runs straight along most of a side, that side
/// is put on the outline's middle, not on its outermost point, or, where a bump of up to 1.6 mm stands
/// out of it, halfway.
Extent extent_of(const std::vector<cv::Point2d>& closed_mm);

/// How many of the two ends of a size rest on corners: on no straight side, and on less than 2 mm of the
/// outline that come within 0.1 mm of its outermost point.
struct CornerEnds {
    int length = 0;
    int width = 0;
    int largest = 0;
};
CornerEnds corner_ends(const std::vector<cv::Point2d>& closed_mm, const Extent& extent);

}  // namespace stripbook::measure
