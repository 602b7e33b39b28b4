// What sticks out of an outline and is thinner than a part's own features.
#pragma once

#include <opencv2/core.hpp>
#include <vector>

namespace stripbook::measure {

/// How far a right angle stands out of a disc of 1 mm in it, and what the raster adds.
inline constexpr double right_angle_mm = 0.65;

/// How far each point of a closed outline lies outside of its opening with a disc of this radius (Serra's
/// opening: all that a disc inside the outline reaches), mm; 0 inside.
std::vector<double> beyond_opening(const std::vector<cv::Point2d>& closed_mm, double radius_mm);

/// A run of points of which one at least stands out further than a right angle does, or clearly so where the
/// outline goes on beneath it as it came.
struct ThinBit {
    std::size_t first = 0;
    std::size_t count = 0;
    double stands_out_mm = 0;
    bool on_straight = false;  ///< the outline goes on beneath it as it came
};
/// Thinner than 2 mm, of a closed outline of evenly spaced points.
std::vector<ThinBit> thin_bits(const std::vector<cv::Point2d>& closed_mm);

}  // namespace stripbook::measure
