#include "sample_maker/solid_light.h"

#include <algorithm>
#include <cmath>

namespace stripbook::sample_maker {

namespace {

constexpr double touch_mm = 2e-3;

// How far a point at this height stands out of the solid: the broken edge leans 45 degrees inwards.
double clearance(const Solid& solid, cv::Point2d at_mm, double height_mm) {
    const double into_edge = std::max(0.0, height_mm - (solid.thickness - solid.chamfer));
    return distance_from(solid, at_mm) + into_edge;
}

cv::Point2d outward(const Solid& solid, cv::Point2d at_mm) {
    constexpr double step = 1e-3;
    const cv::Point2d slope(distance_from(solid, at_mm + cv::Point2d(step, 0)) -
                                distance_from(solid, at_mm - cv::Point2d(step, 0)),
                            distance_from(solid, at_mm + cv::Point2d(0, step)) -
                                distance_from(solid, at_mm - cv::Point2d(0, step)));
    return slope / std::max(1e-12, cv::norm(slope));
}

bool lamp_seen(const Solid& solid, cv::Point2d at_mm, double height_mm, const cv::Vec3d& towards) {
    const cv::Point2d drift(towards[0] / towards[2], towards[1] / towards[2]);
    const double fastest = cv::norm(drift) + 1;
    double height = height_mm;
    while (height < solid.thickness) {
        const double clear = clearance(solid, at_mm + drift * (height - height_mm), height);
        if (clear <= 0) {
            return false;
        }
        if (clear > (solid.thickness - height) * fastest) {
            return true;
        }
        constexpr double least_step_mm = 0.05;
        height += std::max(clear / fastest, least_step_mm);
    }
    return true;
}

// Of the lamp's face, by one ray to a place on it.
double lamp_share(const Solid& solid, const Lamps& lamps, cv::Point2d at_mm, double height_mm, Dice& dice) {
    const double out = lamps.half_angle_rad * std::sqrt(dice.between(0, 1));
    const double around = dice.between(0, 2 * CV_PI);
    const cv::Vec3d towards = lamps.towards + cv::Vec3d(out * std::cos(around), out * std::sin(around), 0);
    return lamp_seen(solid, at_mm, height_mm, towards) ? 1 : 0;
}

// The share of the sky that a straight wall as high as the solid leaves to the ground beside it: half at its
// foot, all of it from sky_reach heights on (a parabola near the view factor (1 + cos) / 2).
double sky_share(const Solid& solid, cv::Point2d at_mm) {
    const double away = std::max(0.0, distance_from(solid, at_mm));
    const double hidden = std::max(0.0, 1 - away / (sky_reach * solid.thickness));
    double share = 1 - 0.5 * hidden * hidden;
    for (const auto& hole : solid.holes) {
        if (cv::norm(at_mm - hole.centre) < hole.diameter / 2) {
            // From the middle of a round hole's floor.
            const double r = hole.diameter / 2;
            share *= r * r / (r * r + solid.thickness * solid.thickness);
        }
    }
    constexpr double from_walls = 0.3;  // what walls throw back
    return share + from_walls * (1 - share);
}

}  // namespace

Meeting meeting_of(const Solid& solid, const Sight& sight) {
    if (distance_from(solid, sight.top_mm) <= -solid.chamfer) {
        return {Met::face, sight.top_mm, solid.thickness};
    }
    const cv::Point2d drift = (sight.ground_mm - sight.top_mm) / solid.thickness;
    const double fastest = cv::norm(drift) + 1;
    double height = solid.thickness;
    while (height > 0) {
        const cv::Point2d at = sight.top_mm + drift * (solid.thickness - height);
        const double clear = clearance(solid, at, height);
        if (clear <= touch_mm) {
            return {height > solid.thickness - solid.chamfer ? Met::edge : Met::wall, at, height};
        }
        height -= std::max(clear / fastest, touch_mm);
    }
    return {Met::ground, sight.ground_mm, 0};
}

cv::Vec3f light_from(const Solid& solid, const Lamps& lamps, const Surface& surface, const Meeting& meeting,
                     Dice& dice) {
    if (meeting.what == Met::face) {
        return surface.colour * (lamps.lamp + lamps.ambient);
    }
    if (meeting.what == Met::ground) {
        return surface.colour * (lamps.lamp * lamp_share(solid, lamps, meeting.at_mm, 0, dice) +
                                 lamps.ambient * sky_share(solid, meeting.at_mm));
    }
    const cv::Point2d out = outward(solid, meeting.at_mm);
    const double up = meeting.what == Met::edge ? std::sqrt(0.5) : 0;
    const cv::Vec3d normal(out.x * std::sqrt(1 - up * up), out.y * std::sqrt(1 - up * up), up);
    const double facing = std::max(0.0, normal.dot(lamps.towards)) / lamps.towards[2];
    constexpr double off_wall_mm = 0.02;
    const double seen =
        facing > 0 ? lamp_share(solid, lamps, meeting.at_mm + out * off_wall_mm, meeting.height_mm, dice) : 0;
    const double sky = meeting.what == Met::edge ? 0.85
                                                 : sky_share(solid, meeting.at_mm) *
                                                       (0.4 + 0.5 * meeting.height_mm / solid.thickness);
    const cv::Vec3d view(0, 0, 1);
    const double mirror = std::pow(std::max(0.0, normal.dot(cv::normalize(lamps.towards + view))), 30);
    const double mirrored = surface.shine * mirror * seen * (lamps.lamp + lamps.ambient);
    const double diffuse = lamps.lamp * facing * seen + lamps.ambient * sky;
    return surface.colour * diffuse + cv::Vec3f::all(static_cast<float>(mirrored));
}

}  // namespace stripbook::sample_maker
