// The straight line that an outline runs along at a side of its smallest rectangle.
#pragma once

#include <array>
#include <cmath>
#include <opencv2/core.hpp>
#include <optional>
#include <vector>

namespace stripbook::measure {

/// One side of a rectangle around an outline: the outline lies on the inner side of {p: p.out = at_mm}.
struct RectangleSide {
    cv::Point2d out;  ///< unit vector
    double at_mm = 0;
    double size_mm = 0;
    [[nodiscard]] cv::Point2d along() const { return {-out.y, out.x}; }
};

/// Of a rectangle around an outline, each from a corner to the next.
std::array<RectangleSide, 4> sides_of(const std::array<cv::Point2d, 4>& corners_mm);

/// How far the outermost point of an outline lies in a direction.
double outermost_mm(const std::vector<cv::Point2d>& closed_mm, cv::Point2d out);

struct StraightRun {
    double middle_mm = 0;  ///< p.out in the middle of the run
    double slope = 0;      ///< of p.out along the side
    double reach_mm = 0;   ///< from one end of the run to the other, along the side
    double length_mm = 0;  ///< of the outline on it
    /// p.out where the run lies furthest out: the sides of a tapered part are straight, and not parallel.
    [[nodiscard]] double outermost_mm() const { return middle_mm + std::abs(slope) * reach_mm / 2; }
};

constexpr double low_bump_mm = 1.6;  ///< the bumps of stains and shadows are hardly ever higher

/// Of an outline of evenly spaced points; nothing where less than most of the side is straight within
/// `near_mm` of it. What lies more than 0.3 mm off the line is not on it: rounded corners, and bumps.
std::optional<StraightRun> straight_run(const std::vector<cv::Point2d>& closed_mm, const RectangleSide& side,
                                        double near_mm = low_bump_mm);

}  // namespace stripbook::measure
