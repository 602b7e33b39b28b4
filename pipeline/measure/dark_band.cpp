#include "measure/dark_band.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "measure/greys_across.h"

namespace stripbook::measure {

namespace {

constexpr int neighbours = 8;       // on each side
constexpr double farthest_px = 38;  // from the outline to the part
constexpr double outmost_px = 8;
constexpr double step_px = 2;
constexpr double blur_px = 4;  // on each side of an edge
constexpr double face_px = 6;  // of the face, beyond the broken edge
constexpr double inmost_px = farthest_px + blur_px + face_px;
constexpr SamplesAcross samples{-inmost_px, step_px,
                                static_cast<int>((inmost_px + outmost_px) / step_px) + 1};

// How far inside the outline it becomes brightest of a sudden, px.
std::optional<double> steepest_rise_px(const GreyLine& across, double least_px) {
    double most = 15;  // grey levels
    std::optional<double> at;
    for (int k = static_cast<int>(std::ceil(least_px / step_px)); k * step_px <= farthest_px; ++k) {
        const double px = k * step_px;
        const double rise = across.at(-px - step_px) - across.at(-px + step_px);
        if (rise > most) {
            most = rise;
            at = px;
        }
    }
    return at;
}

// Whether the shadow of a pale face lies inside the outline, wider than the part's own dark.
bool is_band(const GreyLine& across, double own_px) {
    constexpr double even = 0.3;       // of the step to the ground
    constexpr double darker = 15;      // grey levels
    constexpr double face_over = 0.4;  // of the step to the ground
    const auto rise_px = steepest_rise_px(across, std::max(2 * (blur_px + step_px), own_px));
    if (!rise_px) {
        return false;
    }
    const auto ground = across.between(blur_px, outmost_px);
    const auto band = across.between(blur_px - *rise_px, -blur_px);
    const auto face = across.between(-*rise_px - blur_px - face_px, -*rise_px - blur_px);
    const double step = ground.mean - band.mean;
    return step > darker && band.most - band.least < even * step &&
           face.mean - band.mean > std::max(darker, face_over * step);
}

}  // namespace

double dark_band_share(const cv::Mat3b& picture, const DarkOfPart& dark,
                       const std::vector<EdgePoint>& points) {
    if (points.size() <= 2 * neighbours + 1) {
        return 0;
    }
    constexpr double clear_px = 2;
    const auto steady = steadied(points, neighbours);
    const auto greys = greys_across(picture, steady, samples, neighbours);
    int bands = 0;
    for (std::size_t i = 0; i < points.size(); ++i) {
        bands += is_band(GreyLine(greys[i], samples), own_dark_px(dark, steady[i]) + clear_px);
    }
    return static_cast<double>(bands) / static_cast<double>(points.size());
}

}  // namespace stripbook::measure
