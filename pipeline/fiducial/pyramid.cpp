#include "fiducial/pyramid.h"

#include <algorithm>
#include <opencv2/imgproc.hpp>

namespace stripbook::fiducial {

Pyramid::Pyramid(const cv::Mat& grey) {
    constexpr int shortest_px = 24;
    constexpr int most_levels = 7;
    levels_.push_back(grey);
    while (levels() < most_levels) {
        const cv::Mat& last = levels_.back();
        const cv::Size half(last.cols / 2, last.rows / 2);
        if (std::min(half.width, half.height) < shortest_px) {
            break;
        }
        // An odd last row or column is left out: averaging would shift the frame.
        cv::Mat smaller;
        cv::resize(last(cv::Rect(0, 0, half.width * 2, half.height * 2)), smaller, half, 0, 0,
                   cv::INTER_AREA);
        levels_.push_back(smaller);
    }
}

cv::Point2d Pyramid::to_level(const cv::Point2d& picture_px, int level) {
    const double scale = 1 << level;
    return {(picture_px.x + 0.5) / scale - 0.5, (picture_px.y + 0.5) / scale - 0.5};
}

cv::Point2d Pyramid::from_level(const cv::Point2d& level_px, int level) {
    const double scale = 1 << level;
    return {(level_px.x + 0.5) * scale - 0.5, (level_px.y + 0.5) * scale - 0.5};
}

int Pyramid::level_for(double side_px, double wanted_px) const {
    int level = 0;
    while (level + 1 < levels() && side_px / (2 << level) >= wanted_px) {
        ++level;
    }
    return level;
}

}  // namespace stripbook::fiducial
