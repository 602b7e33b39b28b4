#include "measure/face_view.h"

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>

namespace stripbook::measure {

namespace {

cv::Rect2d box_of(const std::vector<cv::Point2d>& points) {
    cv::Point2d low = points.front();
    cv::Point2d high = low;
    for (const auto& p : points) {
        low = {std::min(low.x, p.x), std::min(low.y, p.y)};
        high = {std::max(high.x, p.x), std::max(high.y, p.y)};
    }
    return {low, high};
}

std::optional<double> photo_px_per_mm(const scale::Plane& plane, cv::Point2d at_mm, double height_mm) {
    const auto here = scale::pixel_from_plane(plane, at_mm, height_mm);
    const auto right = scale::pixel_from_plane(plane, at_mm + cv::Point2d(1, 0), height_mm);
    const auto below = scale::pixel_from_plane(plane, at_mm + cv::Point2d(0, 1), height_mm);
    if (!here || !right || !below) {
        return std::nullopt;
    }
    return std::sqrt(std::abs((*right - *here).cross(*below - *here)));
}

// Photo pixels on a lattice of every `step`-th view pixel, to be enlarged: the lens is smooth at that scale.
std::optional<cv::Mat2f> photo_lattice(const FaceView& view, const scale::Plane& plane, cv::Size size,
                                       int step) {
    cv::Mat2f lattice(size.height / step + 2, size.width / step + 2);
    for (int y = 0; y < lattice.rows; ++y) {
        for (int x = 0; x < lattice.cols; ++x) {
            const auto px = scale::pixel_from_plane(
                plane, view.mm_from_view(cv::Point2d(x, y) * static_cast<double>(step)), view.height_mm);
            if (!px) {
                return std::nullopt;
            }
            lattice(y, x) = {static_cast<float>(px->x), static_cast<float>(px->y)};
        }
    }
    return lattice;
}

}  // namespace

std::optional<FaceView> face_view(const cv::Mat3b& picture, const scale::Plane& plane,
                                  const std::vector<cv::Point2d>& around_mm, double height_mm, int most_px) {
    if (around_mm.empty()) {
        return std::nullopt;
    }
    const cv::Rect2d box = box_of(around_mm);
    const auto native = photo_px_per_mm(plane, (box.tl() + box.br()) / 2, height_mm);
    const double side = std::max(box.width, box.height);
    if (!native || !(side > 0)) {
        return std::nullopt;
    }
    FaceView view;
    view.origin_mm = box.tl();
    view.px_per_mm = std::min(*native, most_px / side);
    view.height_mm = height_mm;
    const cv::Size size(static_cast<int>(std::ceil(box.width * view.px_per_mm)) + 1,
                        static_cast<int>(std::ceil(box.height * view.px_per_mm)) + 1);
    constexpr int step = 16;
    const auto lattice = photo_lattice(view, plane, size, step);
    if (!lattice) {
        return std::nullopt;
    }
    cv::Mat2f map(size);
    for (int y = 0; y < size.height; ++y) {
        const int j = y / step;
        const float fy = static_cast<float>(y % step) / step;
        for (int x = 0; x < size.width; ++x) {
            const int i = x / step;
            const float fx = static_cast<float>(x % step) / step;
            map(y, x) = ((*lattice)(j, i) * (1 - fx) + (*lattice)(j, i + 1) * fx) * (1 - fy) +
                        ((*lattice)(j + 1, i) * (1 - fx) + (*lattice)(j + 1, i + 1) * fx) * fy;
        }
    }
    cv::remap(picture, view.picture, map, cv::noArray(), cv::INTER_LINEAR, cv::BORDER_REPLICATE);
    return view;
}

}  // namespace stripbook::measure
