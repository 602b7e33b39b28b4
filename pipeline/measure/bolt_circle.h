// Holes that lie on one circle, evenly spaced.
#pragma once

#include <opencv2/core.hpp>
#include <optional>
#include <vector>

#include "measure/circle_fit.h"

namespace stripbook::measure {

struct HolePlace {
    cv::Point2d centre_mm;
    double diameter_mm = 0;
};

struct BoltCircle {
    Circle circle;
    std::vector<std::size_t> holes;  ///< that make it, in order around it
    std::optional<std::size_t>
        odd_one_out;  ///< of the same size and near it, but not on it or not in its place
};

/// The largest group of three or more holes alike in diameter (10 %) that lie within `tolerance_mm` of one
/// circle and of even spacing around it. Four holes at the corners of a rectangle lie on a circle too, but
/// are not evenly spaced and do not count.
std::optional<BoltCircle> find_bolt_circle(const std::vector<HolePlace>& holes, double tolerance_mm);

}  // namespace stripbook::measure
