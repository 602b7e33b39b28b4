// An outline as the edge finder gives it, along straight sides, and a picture to go with it.
#pragma once

#include <opencv2/imgproc.hpp>
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

/// Drawn grey levels as a camera shows them: blurred, with grain of that many levels.
inline cv::Mat3b grainy(cv::Mat1f grey, double grain_levels) {
    cv::GaussianBlur(grey, grey, {}, 0.8);
    cv::Mat1f grain(grey.size());
    cv::RNG(7).fill(grain, cv::RNG::NORMAL, 0, grain_levels);
    grey += grain;
    cv::Mat1b whole;
    grey.convertTo(whole, CV_8U);
    cv::Mat3b picture;
    cv::cvtColor(whole, picture, cv::COLOR_GRAY2BGR);
    return picture;
}

}  // namespace drawn_outline
