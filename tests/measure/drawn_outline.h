// An outline as the edge finder gives it, along straight sides.
#pragma once

#include <opencv2/core.hpp>
#include <vector>

#include "measure/closed_line.h"
#include "measure/outline_edge.h"

namespace drawn_outline {

/// Points 1.5 px apart on the closed line through these corners, clockwise as seen.
inline std::vector<stripbook::measure::EdgePoint> along(const std::vector<cv::Point2d>& corners) {
    constexpr double apart_px = 1.5;
    const auto count = static_cast<std::size_t>(stripbook::measure::wrapped_length(corners) / apart_px);
    const auto even = stripbook::measure::evenly_spaced(corners, count);
    std::vector<stripbook::measure::EdgePoint> points;
    const std::size_t n = even.size();
    for (std::size_t i = 0; i < n; ++i) {
        const cv::Point2d along = even[(i + 1) % n] - even[(i + n - 1) % n];
        stripbook::measure::EdgePoint point;
        point.px = even[i];
        point.outward = cv::Point2d(along.y, -along.x) / cv::norm(along);
        points.push_back(point);
    }
    return points;
}

}  // namespace drawn_outline
