#include "sample_maker/random_pose.h"

#include <fmt/format.h>

#include <cmath>
#include <opencv2/calib3d.hpp>
#include <optional>

#include "errors.h"
#include "sample_maker/outline.h"

namespace stripbook::sample_maker {

namespace {

constexpr double radians_per_degree = CV_PI / 180;

[[noreturn]] void refuse(const Camera& camera, cv::Size2d face_mm, double px_per_mm) {
    if (!(px_per_mm > 0)) {
        throw WrongUse(fmt::format("A face at {:.3g} px/mm cannot be drawn: give more than 0.", px_per_mm));
    }
    throw WrongUse(fmt::format(
        "A face of {} x {} mm at {:.3g} px/mm does not fit a picture of {} x {}: give fewer px/mm "
        "or a larger picture.",
        face_mm.width, face_mm.height, px_per_mm, camera.size_px.width, camera.size_px.height));
}

// The axis of the tilt lies in the picture plane, at right angles to the direction of the side that goes
// away.
cv::Matx33d rotation_of(const Stance& stance) {
    const double direction = stance.tilt_direction_deg * radians_per_degree;
    const double tilt = stance.tilt_deg * radians_per_degree;
    cv::Matx33d turned;
    cv::Matx33d tilted;
    cv::Rodrigues(cv::Vec3d(0, 0, stance.turn_deg * radians_per_degree), turned);
    cv::Rodrigues(cv::Vec3d(std::sin(direction) * tilt, -std::cos(direction) * tilt, 0), tilted);
    return tilted * turned;
}

std::optional<Pose> pose_at_depth(const Camera& camera, cv::Size2d face_mm, const Stance& stance,
                                  double depth_mm) {
    const auto ray = ray_from_pixel(camera, stance.middle_px);
    if (!ray) {
        return std::nullopt;
    }
    Pose pose{rotation_of(stance), {}};
    const cv::Vec3d middle(face_mm.width / 2, face_mm.height / 2, 0);
    pose.translation_mm = cv::Vec3d(ray->x, ray->y, 1) * depth_mm - pose.rotation * middle;
    return pose;
}

std::optional<Pose> find_pose(const Camera& camera, cv::Size2d face_mm, const Stance& stance,
                              double wanted_px_per_mm) {
    if (!(wanted_px_per_mm > 0)) {
        return std::nullopt;
    }
    double depth_mm = std::sqrt(camera.matrix(0, 0) * camera.matrix(1, 1)) / wanted_px_per_mm;
    // Size falls almost exactly as 1 / depth, so that this converges in a few steps.
    for (int i = 0; i < 20; ++i) {
        auto pose = pose_at_depth(camera, face_mm, stance, depth_mm);
        const auto corners = pose ? face_corners_px(camera, *pose, face_mm) : std::nullopt;
        if (!corners || area_px(*corners) <= 0) {
            return std::nullopt;
        }
        const double ratio = px_per_mm(*corners, face_mm) / wanted_px_per_mm;
        if (std::abs(ratio - 1) < 1e-9) {
            return pose;
        }
        depth_mm *= ratio;
    }
    return std::nullopt;
}

}  // namespace

Pose pose_of(const Camera& camera, cv::Size2d face_mm, const Stance& stance, double px_per_mm) {
    if (const auto pose = find_pose(camera, face_mm, stance, px_per_mm)) {
        return *pose;
    }
    refuse(camera, face_mm, px_per_mm);
}

Pose random_pose(const Camera& camera, cv::Size2d face_mm, const PoseWish& wish, Dice& dice) {
    if (!(wish.max_tilt_deg >= 0 && wish.max_tilt_deg <= 70)) {
        throw WrongUse(fmt::format("A tilt of {} degrees cannot be drawn: give 0 to 70.", wish.max_tilt_deg));
    }
    const cv::Point2d middle((camera.size_px.width - 1) / 2.0, (camera.size_px.height - 1) / 2.0);
    constexpr int tries = 400;
    for (int i = 0; i < tries; ++i) {
        Stance stance{dice.between(0, 360), dice.between(0, wish.max_tilt_deg), dice.between(0, 360), middle};
        const auto central = find_pose(camera, face_mm, stance, wish.px_per_mm);
        if (!central) {
            continue;
        }
        // Where the middle may go, from the size seen in the picture's middle; checked afterwards, as it
        // changes there.
        const cv::Rect2d box = box_around(*face_corners_px(camera, *central, face_mm));
        const double right_most =
            camera.size_px.width - 0.5 - wish.margin_px - (box.x + box.width - middle.x);
        const double left_most = -0.5 + wish.margin_px + (middle.x - box.x);
        const double bottom_most =
            camera.size_px.height - 0.5 - wish.margin_px - (box.y + box.height - middle.y);
        const double top_most = -0.5 + wish.margin_px + (middle.y - box.y);
        if (left_most > right_most || top_most > bottom_most) {
            continue;
        }
        stance.middle_px = {dice.between(left_most, right_most), dice.between(top_most, bottom_most)};
        const auto pose = find_pose(camera, face_mm, stance, wish.px_per_mm);
        const auto corners = pose ? face_corners_px(camera, *pose, face_mm) : std::nullopt;
        if (corners && wholly_inside(*corners, camera.size_px, wish.margin_px)) {
            return *pose;
        }
    }
    refuse(camera, face_mm, wish.px_per_mm);
}

}  // namespace stripbook::sample_maker
