#include "measure/dark_band.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "measure/greys_across.h"

namespace stripbook::measure {

namespace {

constexpr int neighbours = 8;  // on each side
constexpr double step_px = 2;
constexpr int inward = 24;  // samples
constexpr int outward = 4;
constexpr int blur = 2;  // samples on each side of an edge
constexpr int face = 3;  // samples of the face

struct Stretch {
    double mean = 0;
    double least = 0;
    double most = 0;
};

// Of the samples so far outward of the outline, both ends in.
Stretch stretch(const std::vector<double>& greys, int from, int to) {
    const auto first = greys.begin() + inward + from;
    const auto behind = greys.begin() + inward + to + 1;
    double sum = 0;
    for (auto grey = first; grey != behind; ++grey) {
        sum += *grey;
    }
    const auto [least, most] = std::minmax_element(first, behind);
    return {sum / static_cast<double>(behind - first), *least, *most};
}

// How far inward it becomes brightest of a sudden, samples.
std::optional<int> steepest_rise(const std::vector<double>& greys, int least) {
    double most = 15;  // grey levels
    std::optional<int> at;
    for (int k = least; k <= inward - blur - face; ++k) {
        const double rise = stretch(greys, -k - 1, -k - 1).mean - stretch(greys, -k + 1, -k + 1).mean;
        if (rise > most) {
            most = rise;
            at = k;
        }
    }
    return at;
}

// Whether the shadow of a pale face lies inside the outline, wider than the part's own dark.
bool is_band(const std::vector<double>& greys, double own_px) {
    constexpr double even = 0.3;       // of the step to the ground
    constexpr double darker = 15;      // grey levels
    constexpr double face_over = 0.4;  // of the step to the ground
    const int least = std::max(2 * blur + 2, static_cast<int>(std::ceil(own_px / step_px)));
    const auto end = steepest_rise(greys, least);
    if (!end) {
        return false;
    }
    const Stretch ground = stretch(greys, blur, outward);
    const Stretch band = stretch(greys, -*end + blur, -blur);
    const Stretch inside = stretch(greys, -*end - blur - face, -*end - blur);
    const double step = ground.mean - band.mean;
    return step > darker && band.most - band.least < even * step &&
           inside.mean - band.mean > std::max(darker, face_over * step);
}

}  // namespace

double dark_band_share(const cv::Mat3b& picture, const DarkOfPart& dark,
                       const std::vector<EdgePoint>& points) {
    if (points.size() <= 2 * neighbours + 1) {
        return 0;
    }
    constexpr double clear_px = 2;
    const auto steady = steadied(points, neighbours);
    const auto greys =
        greys_across(picture, steady, {-inward * step_px, step_px, inward + outward + 1}, neighbours);
    int bands = 0;
    for (std::size_t i = 0; i < points.size(); ++i) {
        const cv::Point2d px = steady[i].px;
        const double wall_px = dark.rim_of_foot ? (px - dark.rim_of_foot(px)).dot(steady[i].outward) : 0;
        bands += is_band(greys[i], surely_not_broken * dark.broken_px + clear_px + std::max(0.0, wall_px));
    }
    return static_cast<double>(bands) / static_cast<double>(points.size());
}

}  // namespace stripbook::measure
