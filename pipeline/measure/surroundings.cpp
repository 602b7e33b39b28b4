#include "measure/surroundings.h"

#include <algorithm>
#include <opencv2/imgproc.hpp>

#include "number/marker_layout.h"

namespace stripbook::measure {

namespace {

using Polygon = std::vector<cv::Point2d>;

void fill(const Polygon& photo_px, cv::Mat1b& mask) {
    std::vector<cv::Point> corners;
    for (const auto& p : photo_px) {
        constexpr double far = 1e5;  // fillPoly's whole numbers must not overflow
        const cv::Point2d q = small_from_photo(p);
        corners.emplace_back(cvRound(std::clamp(q.x, -far, far)), cvRound(std::clamp(q.y, -far, far)));
    }
    if (corners.size() >= 3) {
        cv::fillPoly(mask, std::vector<std::vector<cv::Point>>{corners}, cv::Scalar(255));
    }
}

void grow(cv::Mat1b& mask, int by) {
    cv::dilate(mask, mask, cv::Mat::ones(2 * by + 1, 2 * by + 1, CV_8U));
}

Polygon seen(const scale::Plane& plane, const Polygon& corners_mm, int steps) {
    Polygon outline;
    for (std::size_t i = 0; i < corners_mm.size(); ++i) {
        const cv::Point2d a = corners_mm[i];
        const cv::Point2d b = corners_mm[(i + 1) % corners_mm.size()];
        for (int s = 0; s < steps; ++s) {
            if (const auto px = scale::pixel_from_plane(plane, a + (b - a) * (s / double(steps)), 0)) {
                outline.push_back(*px);
            }
        }
    }
    return outline;
}

// The rectangle that the squares frame.
Polygon inner_frame_mm(const scale::Plane& plane) {
    const auto squares = printed_squares_mm(plane);
    const Polygon& first = squares.front();
    const double left = first[2].x;
    const double top = first[2].y;
    double right = left;
    double bottom = top;
    for (const auto& square : squares) {
        right = std::max(right, square[0].x);
        bottom = std::max(bottom, square[0].y);
    }
    return {{left, top}, {right, top}, {right, bottom}, {left, bottom}};
}

}  // namespace

cv::Point2d small_from_photo(cv::Point2d photo_px) {
    constexpr double half = 0.5;
    return {(photo_px.x + half) / small_scale - half, (photo_px.y + half) / small_scale - half};
}

cv::Point2d photo_from_small(cv::Point2d small_px) {
    constexpr double half = 0.5;
    return {(small_px.x + half) * small_scale - half, (small_px.y + half) * small_scale - half};
}

bool is_set_at(const cv::Mat1b& small, cv::Point2d photo_px) {
    const cv::Point px = small_from_photo(photo_px);
    return cv::Rect({0, 0}, small.size()).contains(px) && small(px) != 0;
}

std::vector<cv::Point2d> sheet_outline_px(const scale::Plane& plane) {
    const double w = plane.sheet_mm.width;
    const double h = plane.sheet_mm.height;
    constexpr int steps = 16;
    return seen(plane, {{0, 0}, {w, 0}, {w, h}, {0, h}}, steps);
}

std::vector<std::vector<cv::Point2d>> printed_squares_mm(const scale::Plane& plane) {
    std::vector<Polygon> squares;
    for (const auto& layout : number::marker_layouts()) {
        if (layout.kind != plane.marker) {
            continue;
        }
        const double across = plane.sheet_mm.width / layout.width;
        const double along = plane.sheet_mm.height / layout.height;
        const double half = layout.fiducial_side / 2;
        for (const auto& f : layout.fiducials) {
            Polygon square;
            for (const auto& [dx, dy] : {std::pair{-1, -1}, {1, -1}, {1, 1}, {-1, 1}}) {
                square.emplace_back((f.centre.x + dx * half) * across, (f.centre.y + dy * half) * along);
            }
            squares.push_back(square);
        }
    }
    return squares;
}

Surroundings surroundings_of(cv::Size photo_size, const scale::Plane& plane,
                             const std::vector<std::vector<cv::Point2d>>& not_part_px) {
    const cv::Size small(photo_size.width / small_scale, photo_size.height / small_scale);
    const auto nothing = [&] { return cv::Mat1b(small, uchar{0}); };
    Surroundings around{nothing(), nothing(), nothing(), nothing()};
    fill(sheet_outline_px(plane), around.sheet);
    for (const auto& square : printed_squares_mm(plane)) {
        fill(seen(plane, square, 1), around.squares);
    }
    if (plane.marker != "pocket") {
        fill(seen(plane, inner_frame_mm(plane), 8), around.inner);
    }
    for (const auto& polygon : not_part_px) {
        fill(polygon, around.not_part);
    }
    constexpr int beside_square = 2;
    constexpr int beside_tag = 6;  // its shadow and the wire's first turn
    grow(around.squares, beside_square);
    grow(around.not_part, beside_tag);
    return around;
}

}  // namespace stripbook::measure
