// A parabola through points.
#pragma once

#include <opencv2/core.hpp>
#include <optional>
#include <vector>

namespace stripbook::measure {

struct Parabola {
    cv::Vec3d c;          ///< y = c0 + c1 x + c2 x^2
    double variance = 0;  ///< of what is left, per degree of freedom
    [[nodiscard]] double at(double x) const { return c[0] + x * (c[1] + x * c[2]); }
};

/// By least squares of the ordinates; any one unit. Nothing for fewer than five points, or for points that do
/// not tell.
std::optional<Parabola> parabola_through(const std::vector<cv::Point2d>& points);

}  // namespace stripbook::measure
