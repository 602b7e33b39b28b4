#include "measure/pale_shadow.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "measure/closed_runs.h"
#include "measure/greys_across.h"

namespace stripbook::measure {

namespace {

constexpr double farthest_px = 14;  // from the outline to the part
constexpr double blur_px = 2;       // on each side of an edge
constexpr double face_px = 2.5;     // of the face, beyond the broken edge
constexpr int neighbours = 8;       // on each side

constexpr double inmost_px = farthest_px + 2 * blur_px + face_px;
constexpr double outmost_px = 4;
constexpr SamplesAcross samples{-inmost_px, across_px,
                                static_cast<int>((inmost_px + outmost_px) / across_px) + 1};

// Where the grey rises most within two pixels, so far inside the outline; nothing where it hardly rises.
std::optional<double> steepest_rise_px(const GreyLine& across, double least_px) {
    double most = 10;  // grey levels
    std::optional<double> at;
    const int steps = static_cast<int>(std::floor((farthest_px - least_px) / across_px));
    for (int k = 0; k <= steps; ++k) {
        const double px = least_px + across_px * k;
        const double rise = across.at(1 - px) - across.at(-1 - px);
        if (rise > most) {
            most = rise;
            at = px;
        }
    }
    return at;
}

// How far inside the outline a pale shadow ends, px.
std::optional<double> shadow_px(const GreyLine& across, double least_px) {
    constexpr double even = 0.3;    // of the step to the ground, from one side of the band to the other
    constexpr double paler = 0.08;  // of the step from face to ground
    constexpr double darker = 0.7;  // of that
    const auto rise_px = steepest_rise_px(across, std::max(least_px, 2 * blur_px + 1));
    if (!rise_px) {
        return std::nullopt;
    }
    const auto ground = across.between(blur_px, outmost_px);
    const auto band = across.between(blur_px - *rise_px, -blur_px);
    const auto face = across.between(-*rise_px - 2 * blur_px - face_px, -*rise_px - 2 * blur_px);
    const double step = ground.mean - face.mean;
    const double over_face = band.mean - face.mean;
    const bool is_shadow = band.most - band.least < even * (ground.mean - band.mean) &&
                           over_face > paler * step && over_face < darker * step && face.most < band.mean;
    return is_shadow ? rise_px : std::nullopt;
}

constexpr std::size_t fewest = 30;  // points: a stain's border is shorter
constexpr std::size_t longest_gap = 8;

bool is_band(const Run& stretch, const std::vector<bool>& told) {
    constexpr double most = 0.8;
    return stretch.count >= fewest && marked_share(stretch, told) > most;
}

}  // namespace

void mark_pale_shadow(const cv::Mat3b& picture, const DarkOfPart& dark, std::vector<EdgePoint>& points) {
    constexpr double fainter = 0.8;  // contrast share
    constexpr double clear_px = 0.5;
    const auto may_be = [](const EdgePoint& point) {
        return point.contrast_share < fainter && point.aside_px == 0 && !point.told_by_hue;
    };
    std::vector<bool> faint;
    faint.reserve(points.size());
    for (const auto& point : points) {
        faint.push_back(may_be(point));
    }
    // Most outlines are nowhere so faint for so long.
    const auto stretches = runs_around(faint, longest_gap + 1);
    if (points.size() <= 2 * neighbours + 1 ||
        std::none_of(stretches.begin(), stretches.end(),
                     [](const Run& run) { return run.count >= fewest; })) {
        return;
    }
    const auto steady = steadied(points, neighbours);
    const auto greys = greys_across(picture, steady, samples, neighbours);
    std::vector<std::optional<double>> ends(points.size());
    std::vector<bool> told(points.size(), false);
    for (std::size_t i = 0; i < points.size(); ++i) {
        if (faint[i]) {
            ends[i] = shadow_px(GreyLine(greys[i], samples), own_dark_px(dark, steady[i]) + clear_px);
            told[i] = ends[i].has_value();
        }
    }
    for (const auto& stretch : runs_around(told, longest_gap + 1)) {
        if (!is_band(stretch, told)) {
            continue;
        }
        for (std::size_t k = 0; k < stretch.count; ++k) {
            const std::size_t i = (stretch.first + k) % points.size();
            if (ends[i]) {
                points[i].aside_px = -*ends[i] / 2;
            }
        }
    }
}

}  // namespace stripbook::measure
