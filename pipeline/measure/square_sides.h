// Places along the sides of the marker's black squares, as the photo shows them.
#pragma once

#include <opencv2/core.hpp>
#include <vector>

#include "scale/plane.h"

namespace stripbook::measure {

struct SidePlace {
    cv::Point2d px;          ///< on the printed edge
    cv::Point2d into_black;  ///< unit vector in the picture, from the paper into the square
};

/// How many places a side has when all of it is seen.
inline constexpr int places_on_side = 23;

/// The places of each side of each square, evenly spaced on the sheet, without the corners; only those that
/// lie `margin_px` or more inside the picture.
std::vector<std::vector<SidePlace>> square_sides(const scale::Plane& plane, cv::Size picture,
                                                 double margin_px);

}  // namespace stripbook::measure
