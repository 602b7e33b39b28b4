// Closed lines of points: spacing, smoothing, and taking off what is thin.
#pragma once

#include <algorithm>
#include <cstddef>
#include <opencv2/core.hpp>
#include <vector>

namespace stripbook::measure {

/// Length of the closed line, in the points' unit.
double wrapped_length(const std::vector<cv::Point2d>& points);

/// `count` points on the closed line, the same distance apart along it.
std::vector<cv::Point2d> evenly_spaced(const std::vector<cv::Point2d>& points, std::size_t count);

/// Every so many-th of the points: `enough` of them, or up to twice as many; all where there are fewer.
template <typename Point>
std::vector<Point> thinned(const std::vector<Point>& points, std::size_t enough) {
    const std::size_t step = std::max<std::size_t>(1, points.size() / enough);
    std::vector<Point> some;
    some.reserve(points.size() / step + 1);
    for (std::size_t i = 0; i < points.size(); i += step) {
        some.push_back(points[i]);
    }
    return some;
}

/// Mean over 2 `half` + 1 neighbours on the closed line.
std::vector<cv::Point2d> rounded_off(const std::vector<cv::Point2d>& points, int half);

/// `between` points from `a` to `b`, on the cubic that has these directions (unit vectors) there (Hermite).
std::vector<cv::Point2d> cubic_between(cv::Point2d a, cv::Point2d from_a, cv::Point2d b, cv::Point2d to_b,
                                       std::size_t between);

/// Turned around where it runs the other way (clockwise as seen, y down).
std::vector<cv::Point2d> clockwise(std::vector<cv::Point2d> outline);

/// The outline of pixels without spikes, notches and loops thinner than twice the radius; to 2 px. Corners
/// are rounded by the radius. (Opening and closing by a disc.)
std::vector<cv::Point2d> opened_and_closed(const std::vector<cv::Point2d>& outline, double radius_px);

}  // namespace stripbook::measure
