#include "measure/thin_bits.h"

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>

namespace stripbook::measure {

namespace {

// Whether the outline comes to `before` in the direction in which it leaves `after`, and goes that way
// between. Indices are of an outline that is counted on around.
bool straight_beneath(const std::vector<cv::Point2d>& closed, std::size_t before, std::size_t after) {
    constexpr double run_mm = 2.5;
    constexpr double least_cosine = 0.82;  // 35 degrees
    const std::size_t n = closed.size();
    const cv::Point2d start = closed[before % n];
    const cv::Point2d end = closed[after % n];
    std::size_t back = before + n;
    while (cv::norm(closed[back % n] - start) < run_mm && back > before) {
        --back;
    }
    std::size_t on = after;
    while (cv::norm(closed[on % n] - end) < run_mm && on < after + n) {
        ++on;
    }
    const auto along = [](cv::Point2d a, cv::Point2d b) {
        return a.dot(b) / std::max(1e-9, cv::norm(a) * cv::norm(b));
    };
    const cv::Point2d comes = start - closed[back % n];
    const cv::Point2d leaves = closed[on % n] - end;
    const cv::Point2d across = end - start;
    constexpr double no_gap_mm = 0.3;
    return along(comes, leaves) > least_cosine &&
           (cv::norm(across) < no_gap_mm || along(comes + leaves, across) > least_cosine);
}

}  // namespace

std::vector<double> beyond_opening(const std::vector<cv::Point2d>& closed_mm, double radius_mm) {
    constexpr double cells_per_mm = 5;
    constexpr int margin = 8;
    if (closed_mm.empty()) {
        return {};
    }
    const std::vector<cv::Point2f> single(closed_mm.begin(), closed_mm.end());
    const cv::Rect2d box = cv::boundingRect(single);
    const cv::Size size(static_cast<int>(box.width * cells_per_mm) + 2 * margin,
                        static_cast<int>(box.height * cells_per_mm) + 2 * margin);
    const auto cell = [&](cv::Point2d mm) {
        return cv::Point(cvRound((mm.x - box.x) * cells_per_mm) + margin,
                         cvRound((mm.y - box.y) * cells_per_mm) + margin);
    };
    std::vector<cv::Point> corners;
    corners.reserve(closed_mm.size());
    for (const auto& mm : closed_mm) {
        corners.push_back(cell(mm));
    }
    cv::Mat1b filled(size, uchar{0});
    cv::fillPoly(filled, std::vector<std::vector<cv::Point>>{corners}, cv::Scalar(255));
    cv::Mat1f depth;
    cv::distanceTransform(filled, depth, cv::DIST_L2, cv::DIST_MASK_PRECISE);
    cv::Mat1b no_disc;
    constexpr double rim = 1;  // cells on the outline itself are filled, their depth is one
    cv::compare(depth, radius_mm * cells_per_mm + rim, no_disc, cv::CMP_LT);
    cv::Mat1f away;
    cv::distanceTransform(no_disc, away, cv::DIST_L2, cv::DIST_MASK_PRECISE);
    std::vector<double> beyond;
    beyond.reserve(corners.size());
    for (const auto& corner : corners) {
        beyond.push_back(std::max(0.0, static_cast<double>(away(corner)) / cells_per_mm - radius_mm));
    }
    return beyond;
}

std::vector<ThinBit> thin_bits(const std::vector<cv::Point2d>& closed_mm) {
    constexpr double disc_mm = 1;
    constexpr double step_mm = 0.3;  // on a smooth outline, where no corner stands out
    constexpr double noise_mm = 0.12;
    const auto beyond = beyond_opening(closed_mm, disc_mm);
    const std::size_t n = closed_mm.size();
    std::vector<ThinBit> bits;
    std::size_t done = 0;
    for (std::size_t i = 0; i < n; ++i) {
        if (beyond[i] <= step_mm || i < done) {
            continue;
        }
        std::size_t first = i + n;
        while (beyond[(first - 1) % n] > noise_mm && first > i + 1) {
            --first;
        }
        std::size_t last = i + n;
        while (beyond[(last + 1) % n] > noise_mm && last < i + 2 * n - 1) {
            ++last;
        }
        ThinBit bit{first % n, last - first + 1, 0, straight_beneath(closed_mm, first - 1, last + 1)};
        for (std::size_t k = first; k <= last; ++k) {
            bit.stands_out_mm = std::max(bit.stands_out_mm, beyond[k % n]);
        }
        if (bit.on_straight || bit.stands_out_mm > right_angle_mm) {
            bits.push_back(bit);
        }
        done = last - n + 1;
    }
    return bits;
}

}  // namespace stripbook::measure
