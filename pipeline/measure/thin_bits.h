// What sticks out of an outline and is thinner than a part's own features.
#pragma once

#include <opencv2/core.hpp>
#include <vector>

namespace stripbook::measure {

/// How far each point of a closed outline lies outside of its opening with a disc of this radius (Serra's
/// opening: all that a disc inside the outline reaches), mm; 0 inside.
std::vector<double> beyond_opening(const std::vector<cv::Point2d>& closed_mm, double radius_mm);

}  // namespace stripbook::measure
