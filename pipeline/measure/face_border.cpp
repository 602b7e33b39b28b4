#include "measure/face_border.h"

#include <algorithm>
#include <cmath>

#include "measure/edge_profile.h"
#include "measure/quantile.h"

namespace stripbook::measure {

namespace {

// Brightness across the outline at one point, or the mean of several.
struct Across {
    double face = 0;     // further in than a broken edge is wide
    double inside = 0;   // just inside, clear of the edge's blur
    double outside = 0;  // just outside, no further than a broken edge is wide

    Across& operator+=(const Across& other) {
        face += other.face;
        inside += other.inside;
        outside += other.outside;
        return *this;
    }
};

// Grey levels, mean of the three channels, from `from_px` to `to_px` outward of a point, a pixel apart.
double grey_between(const cv::Mat3b& picture, const EdgePoint& point, double from_px, double to_px) {
    double sum = 0;
    const int steps = std::max(0, static_cast<int>(std::floor(to_px - from_px)));
    for (int k = 0; k <= steps; ++k) {
        const cv::Vec3f colour = colour_at(picture, point.px + point.outward * (from_px + k));
        sum += static_cast<double>(colour[0] + colour[1] + colour[2]) / 3;
    }
    return sum / (steps + 1);
}

Across across(const cv::Mat3b& picture, const EdgePoint& point, double broken_px) {
    constexpr double blur_px = 1.5;
    constexpr double some_px = 2.5;
    const double broken_in = -broken_px - blur_px;
    return {grey_between(picture, point, broken_in - some_px, broken_in),
            grey_between(picture, point, -blur_px - 1, -blur_px),
            grey_between(picture, point, blur_px, std::max(blur_px + 1, broken_px))};
}

// Of 22,000 points so marked on 320 made shots (seeds 21001 and 22001) nine of ten lie more than 0.15 mm
// inside the widest outline, in the middle 0.38 mm.
bool is_face_border(const Across& at, double lit_ground_light) {
    constexpr double clear_of_noise = 5;     // grey levels
    constexpr double no_broken_edge = 0.75;  // of that, left just inside: no broken edge inside the point
    constexpr double in_shadow = 0.9;        // of the light of the lit ground
    constexpr double own_shade = 0.2;        // of the face's light: darker is ground beside a light part
    const double step = at.face - at.outside;
    const double outside = linear_light(at.outside);
    return step > clear_of_noise && at.inside - at.outside > no_broken_edge * step &&
           outside < in_shadow * lit_ground_light && outside > own_shade * linear_light(at.face);
}

}  // namespace

void mark_face_border(const cv::Mat3b& picture, double broken_px, std::vector<EdgePoint>& points) {
    constexpr std::size_t neighbours = 7;
    const std::size_t n = points.size();
    if (n <= 2 * neighbours) {
        return;
    }
    std::vector<Across> each;
    std::vector<double> outside;
    each.reserve(n);
    outside.reserve(n);
    for (const auto& point : points) {
        each.push_back(across(picture, point, broken_px));
        outside.push_back(each.back().outside);
    }
    constexpr double lit_share = 0.75;
    const double lit_ground = linear_light(value_at_share(outside, lit_share));
    for (std::size_t i = 0; i < n; ++i) {
        if (points[i].wall_shows || points[i].told_by_hue) {
            continue;
        }
        Across mean;
        for (std::size_t k = n - neighbours; k <= n + neighbours; ++k) {
            mean += each[(i + k) % n];
        }
        constexpr double count = 2 * neighbours + 1;
        if (is_face_border({mean.face / count, mean.inside / count, mean.outside / count}, lit_ground)) {
            points[i].aside_px = broken_px / 2;
        }
    }
}

}  // namespace stripbook::measure
