// The round holes of a part.
#pragma once

#include <opencv2/core.hpp>
#include <vector>

#include "measure/hole_edge.h"

namespace stripbook::measure {

/// Round holes within the part's outline (plane frame, at the view's height), the largest first.
/// `openings_mm`: where the background is seen through the part.
std::vector<HoleEdge> find_holes(const FaceView& view, const std::vector<cv::Point2d>& outline_mm,
                                 const std::vector<std::vector<cv::Point2d>>& openings_mm,
                                 const HoleLooks& looks);

}  // namespace stripbook::measure
