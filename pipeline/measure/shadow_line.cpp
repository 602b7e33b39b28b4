#include "measure/shadow_line.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "measure/closed_runs.h"
#include "measure/greys_across.h"
#include "measure/quantile.h"

namespace stripbook::measure {

namespace {

constexpr double farthest_px = 10;  // from the outline to the face's edge
constexpr double at_outline_px = 1.5;
constexpr int around = 8;          // samples on each side of an edge, for the slope beside it
constexpr int neighbours = 12;     // on each side: a shadow's grain goes, a straight edge stays
constexpr double least_sharp = 3;  // grey levels per px

constexpr int inner = static_cast<int>(farthest_px / across_px) + around;
constexpr int outer = static_cast<int>(at_outline_px / across_px) + around;

// How much steeper it rises at a sample than around it, grey levels per px; negative: falls.
double sharpness(const std::vector<double>& greys, int sample) {
    const auto grey = [&](int k) { return greys[static_cast<std::size_t>(k)]; };
    const double slope = (grey(sample + 1) - grey(sample - 1)) / (2 * across_px);
    const double beside = (grey(sample + around) - grey(sample - around)) / (2 * around * across_px);
    return slope - beside;
}

// How far inside the outline the face ends, px, if that is sharper than the outline and farther than
// `least_px`.
std::optional<double> face_end_px(const std::vector<double>& greys, double least_px) {
    constexpr int near = static_cast<int>(at_outline_px / across_px);
    double at_outline = 0;
    for (int k = inner - near; k <= inner + near; ++k) {
        at_outline = std::max(at_outline, std::abs(sharpness(greys, k)));
    }
    double sharpest = std::max(least_sharp, at_outline);
    std::optional<double> at;
    for (int k = around; k <= inner - static_cast<int>(std::ceil(least_px / across_px)); ++k) {
        if (-sharpness(greys, k) > sharpest) {
            sharpest = -sharpness(greys, k);
            at = across_px * (inner - k);
        }
    }
    return at;
}

// Long enough to be no stain's border.
bool is_line(const Run& stretch, const std::vector<bool>& told) {
    constexpr std::size_t fewest = 40;
    constexpr double most = 0.8;
    return stretch.count >= fewest && marked_share(stretch, told) > most;
}

double middle_end(const Run& stretch, const std::vector<std::optional<double>>& ends) {
    std::vector<double> told;
    for (std::size_t k = 0; k < stretch.count; ++k) {
        if (const auto& end = ends[(stretch.first + k) % ends.size()]) {
            told.push_back(*end);
        }
    }
    return middle_value(std::move(told));
}

}  // namespace

double wall_px(const DarkOfPart& dark, const EdgePoint& point) {
    return dark.rim_of_foot ? (point.px - dark.rim_of_foot(point.px)).dot(point.outward) : 0;
}

double own_dark_px(const DarkOfPart& dark, const EdgePoint& point) {
    return surely_not_broken * dark.broken_px + std::max(0.0, wall_px(dark, point));
}

void mark_shadow_line(const cv::Mat3b& picture, const DarkOfPart& dark, std::vector<EdgePoint>& points) {
    if (points.size() <= 2 * neighbours + 1) {
        return;
    }
    constexpr double clear_px = 0.5;  // of what may be part
    constexpr std::size_t longest_gap = 15;
    const auto steady = steadied(points, neighbours);
    const auto greys =
        greys_across(picture, steady, {-inner * across_px, across_px, inner + outer + 1}, neighbours);
    std::vector<std::optional<double>> ends(points.size());
    for (std::size_t i = 0; i < points.size(); ++i) {
        if (points[i].aside_px == 0 && !points[i].told_by_hue && wall_px(dark, steady[i]) <= 0) {
            ends[i] = face_end_px(greys[i], dark.broken_px + clear_px);
        }
    }
    std::vector<bool> told;
    told.reserve(ends.size());
    for (const auto& end : ends) {
        told.push_back(end.has_value());
    }
    for (const auto& stretch : runs_around(told, longest_gap + 1)) {
        const double width_px = middle_end(stretch, ends);
        if (!is_line(stretch, told) || width_px < surely_not_broken * dark.broken_px) {
            continue;
        }
        for (std::size_t k = 0; k < stretch.count; ++k) {
            const std::size_t i = (stretch.first + k) % points.size();
            if (points[i].aside_px == 0) {
                points[i].aside_px = -ends[i].value_or(width_px) / 2;
            }
        }
    }
}

}  // namespace stripbook::measure
