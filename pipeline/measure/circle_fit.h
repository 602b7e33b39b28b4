// Circles through points.
#pragma once

#include <opencv2/core.hpp>
#include <optional>
#include <vector>

namespace stripbook::measure {

struct Circle {
    cv::Point2d centre;
    double radius = 0;
    double rms = 0;  ///< distance of the points from it
};

/// How far two circles with their centres near each other lie apart where they do so most; the unit theirs.
double furthest_apart(const Circle& a, const Circle& b);

/// Least algebraic distance with the coefficients' norm held at 1 (Gander, Golub, Strebel, BIT 34 (1994)
/// 558-578, section 2). Nothing for fewer than three points or points on a line.
std::optional<Circle> algebraic_circle(const std::vector<cv::Point2d>& points);

/// Least geometric distance (same paper, section 3; Gauss-Newton with step control), from the algebraic one.
std::optional<Circle> geometric_circle(const std::vector<cv::Point2d>& points);

/// The same with weights 1 / (1 + (d / scale)^2)^2 found again in each round (Geman-McClure), so that a third
/// of points that belong elsewhere does no harm. Starts from `start`.
std::optional<Circle> robust_circle(const std::vector<cv::Point2d>& points, const Circle& start,
                                    double scale);

}  // namespace stripbook::measure
