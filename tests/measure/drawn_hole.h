// A hole seen at an angle, put into a picture along rays from the camera, sample by sample.
#pragma once

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>

#include "drawn_light.h"
#include "measure/face_view.h"

namespace drawn_hole {

using drawn_light::linear;
using drawn_light::photo_of;

constexpr double side_mm = 60;
constexpr double bore_mm = 6;  // radius
constexpr double blur_px = 0.8;
const cv::Point2d centre_mm(30, 30);
const cv::Point2d foot_mm(230, 90);
constexpr double camera_mm = 400;  // over the face

enum class Met { face, broken_edge, wall, bench };

// From where which hole is seen.
struct Sight {
    cv::Point2d foot = foot_mm;
    double bore = bore_mm;
};

// What the ray through a point of the face's plane meets. The bore's rim lies `chamfer` under the face.
inline Met met_at(cv::Point2d face_mm, double depth_mm, double chamfer_mm, const Sight& sight) {
    const auto where = [&](double below_mm) {
        return sight.foot + (face_mm - sight.foot) * ((camera_mm + below_mm) / camera_mm);
    };
    if (cv::norm(face_mm - centre_mm) > sight.bore + chamfer_mm) {
        return Met::face;
    }
    constexpr int steps = 400;
    for (int i = 0; i < steps; ++i) {
        const double below = depth_mm * i / steps;
        const double free_mm = sight.bore + std::max(0.0, chamfer_mm - below);
        if (cv::norm(where(below) - centre_mm) > free_mm) {
            return below < chamfer_mm ? Met::broken_edge : Met::wall;
        }
    }
    return Met::bench;
}

// Grey levels (sRGB). The bench is in shadow where it lies within `shadow_mm` of the wall on the left.
struct Shades {
    double face, broken_edge, wall, bench;
    double shadow = 0, shadow_mm = 0;
};

// The view lies at the bore's rim: `chamfer_mm` under the face. Light is averaged over a pixel and blurred
// before it becomes grey levels.
inline stripbook::measure::FaceView view_of(double depth_mm, double chamfer_mm, const Shades& shades,
                                            double px_per_mm, const Sight& sight = {}) {
    constexpr int fine = 3;
    const int side = static_cast<int>(std::lround(side_mm * px_per_mm)) * fine;
    cv::Mat1f light(side, side);
    stripbook::measure::FaceView view;
    view.px_per_mm = px_per_mm;
    for (int y = 0; y < side; ++y) {
        for (int x = 0; x < side; ++x) {
            const cv::Point2d rim_mm =
                cv::Point2d((x + 0.5) / fine - 0.5, (y + 0.5) / fine - 0.5) / px_per_mm;
            const cv::Point2d face_mm =
                sight.foot + (rim_mm - sight.foot) * (camera_mm / (camera_mm + chamfer_mm));
            const Met met = met_at(face_mm, depth_mm, chamfer_mm, sight);
            const bool shaded = shades.shadow_mm > 0 &&
                                cv::norm(face_mm - centre_mm - cv::Point2d(shades.shadow_mm, 0)) > sight.bore;
            light(y, x) = static_cast<float>(linear(met == Met::face          ? shades.face
                                                    : met == Met::broken_edge ? shades.broken_edge
                                                    : met == Met::wall        ? shades.wall
                                                    : shaded                  ? shades.shadow
                                                                              : shades.bench));
        }
    }
    cv::Mat1f small;
    cv::resize(light, small, {}, 1.0 / fine, 1.0 / fine, cv::INTER_AREA);
    cv::GaussianBlur(small, small, {}, blur_px);
    cv::Mat1f noise(small.size());
    cv::RNG dice(7);
    dice.fill(noise, cv::RNG::NORMAL, 0, 2);
    view.picture = photo_of(small, noise);
    return view;
}

}  // namespace drawn_hole
