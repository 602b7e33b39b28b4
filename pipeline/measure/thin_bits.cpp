#include "measure/thin_bits.h"

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>

namespace stripbook::measure {

std::vector<double> beyond_opening(const std::vector<cv::Point2d>& closed_mm, double radius_mm) {
    constexpr double cells_per_mm = 5;
    constexpr int margin = 8;
    const std::vector<cv::Point2f> single(closed_mm.begin(), closed_mm.end());
    const cv::Rect2d box = cv::boundingRect(single);
    const cv::Size size(static_cast<int>(box.width * cells_per_mm) + 2 * margin,
                        static_cast<int>(box.height * cells_per_mm) + 2 * margin);
    const auto cell = [&](cv::Point2d mm) {
        return cv::Point(cvRound((mm.x - box.x) * cells_per_mm) + margin,
                         cvRound((mm.y - box.y) * cells_per_mm) + margin);
    };
    std::vector<cv::Point> corners;
    for (const auto& mm : closed_mm) {
        corners.push_back(cell(mm));
    }
    cv::Mat1b filled(size, uchar{0});
    cv::fillPoly(filled, std::vector<std::vector<cv::Point>>{corners}, cv::Scalar(255));
    cv::Mat1f depth;
    cv::distanceTransform(filled, depth, cv::DIST_L2, cv::DIST_MASK_PRECISE);
    cv::Mat1b no_disc;
    cv::compare(depth, radius_mm * cells_per_mm, no_disc, cv::CMP_LT);
    cv::Mat1f away;
    cv::distanceTransform(no_disc, away, cv::DIST_L2, cv::DIST_MASK_PRECISE);
    std::vector<double> beyond;
    for (const auto& corner : corners) {
        beyond.push_back(std::max(0.0, static_cast<double>(away(corner)) / cells_per_mm - radius_mm));
    }
    return beyond;
}

}  // namespace stripbook::measure
