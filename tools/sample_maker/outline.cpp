#include "sample_maker/outline.h"

#include <algorithm>
#include <cmath>

namespace stripbook::sample_maker {

std::optional<Quad> face_corners_px(const Camera& camera, const Pose& camera_from_plane, cv::Size2d face_mm) {
    const Quad corners_mm{{{0, 0}, {face_mm.width, 0}, {face_mm.width, face_mm.height}, {0, face_mm.height}}};
    Quad corners_px;
    for (std::size_t i = 0; i < 4; ++i) {
        const auto pixel = pixel_from_plane(camera, camera_from_plane, corners_mm[i]);
        if (!pixel) {
            return std::nullopt;
        }
        corners_px[i] = *pixel;
    }
    return corners_px;
}

double area_px(const Quad& corners) {
    double twice = 0;
    for (std::size_t i = 0; i < 4; ++i) {
        twice += corners[i].cross(corners[(i + 1) % 4]);
    }
    return twice / 2;
}

double px_per_mm(const Quad& corners, cv::Size2d face_mm) {
    return std::sqrt(std::abs(area_px(corners)) / face_mm.area());
}

bool wholly_inside(const Quad& corners, cv::Size picture, double margin_px) {
    return std::all_of(corners.begin(), corners.end(), [&](cv::Point2d p) {
        return p.x >= -0.5 + margin_px && p.y >= -0.5 + margin_px && p.x <= picture.width - 0.5 - margin_px &&
               p.y <= picture.height - 0.5 - margin_px;
    });
}

cv::Rect2d box_around(const Quad& corners) {
    const auto [left, right] = std::minmax({corners[0].x, corners[1].x, corners[2].x, corners[3].x});
    const auto [top, bottom] = std::minmax({corners[0].y, corners[1].y, corners[2].y, corners[3].y});
    return {left, top, right - left, bottom - top};
}

}  // namespace stripbook::sample_maker
