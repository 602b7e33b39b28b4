#include "measure/shadow_line.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "measure/closed_line.h"
#include "measure/closed_runs.h"
#include "measure/edge_profile.h"
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

// The outline without what noise makes of it.
std::vector<EdgePoint> steadied(const std::vector<EdgePoint>& points) {
    constexpr int half = neighbours / 2;
    std::vector<cv::Point2d> outward;
    outward.reserve(points.size());
    for (const auto& point : points) {
        outward.push_back(point.outward);
    }
    outward = rounded_off(outward, half);
    // What the mean cuts off a bend, the mean of the means cuts off again.
    const auto once = rounded_off(places_of(points), neighbours);
    const auto twice = rounded_off(once, neighbours);
    std::vector<EdgePoint> steady = points;
    for (std::size_t i = 0; i < points.size(); ++i) {
        steady[i].px = once[i] + (once[i] - twice[i]);
        steady[i].outward = outward[i] / std::max(1e-9, cv::norm(outward[i]));
    }
    return steady;
}

// Grey levels from inside to outside of each point, half a pixel apart, mean along the outline.
std::vector<std::vector<double>> greys_across(const cv::Mat3b& picture,
                                              const std::vector<EdgePoint>& steady) {
    constexpr std::size_t samples = inner + outer + 1;
    const std::size_t n = steady.size();
    std::vector<std::vector<double>> sums(n + 1, std::vector<double>(samples, 0));
    for (std::size_t i = 0; i < n; ++i) {
        for (std::size_t k = 0; k < samples; ++k) {
            const double off_px = across_px * (static_cast<double>(k) - inner);
            const cv::Vec3f colour = colour_at(picture, steady[i].px + steady[i].outward * off_px);
            sums[i + 1][k] = sums[i][k] + static_cast<double>(colour[0] + colour[1] + colour[2]) / 3;
        }
    }
    constexpr std::size_t count = 2 * neighbours + 1;
    std::vector<std::vector<double>> means(n, std::vector<double>(samples, 0));
    for (std::size_t i = 0; i < n; ++i) {
        const std::size_t from = (i + n - neighbours) % n;
        const std::size_t to = from + count;
        for (std::size_t k = 0; k < samples; ++k) {
            const double wrapped = to > n ? sums[n][k] + sums[to - n][k] : sums[to][k];
            means[i][k] = (wrapped - sums[from][k]) / static_cast<double>(count);
        }
    }
    return means;
}

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

// Whether nearly all of it tells, and it is long enough to be no stain's border.
bool is_line(const Run& stretch, const std::vector<std::optional<double>>& ends) {
    constexpr std::size_t fewest = 40;
    constexpr double most = 0.8;
    std::size_t told = 0;
    for (std::size_t k = 0; k < stretch.count; ++k) {
        told += ends[(stretch.first + k) % ends.size()] ? 1 : 0;
    }
    return stretch.count >= fewest && static_cast<double>(told) > most * static_cast<double>(stretch.count);
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

void mark_shadow_line(const cv::Mat3b& picture, const DarkOfPart& dark, std::vector<EdgePoint>& points) {
    if (points.size() <= 2 * neighbours + 1) {
        return;
    }
    constexpr double clear_px = 0.5;  // of what may be part
    constexpr std::size_t longest_gap = 15;
    // Broken edges of 0.78 mm were seen where 0.5 is allowed for.
    constexpr double surely_not_broken = 1.5;
    const auto steady = steadied(points);
    const auto greys = greys_across(picture, steady);
    std::vector<std::optional<double>> ends(points.size());
    for (std::size_t i = 0; i < points.size(); ++i) {
        const cv::Point2d px = steady[i].px;
        const double wall_px = dark.rim_of_foot ? (px - dark.rim_of_foot(px)).dot(steady[i].outward) : 0;
        if (points[i].aside_px == 0 && !points[i].told_by_hue && wall_px <= 0) {
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
        if (!is_line(stretch, ends) || width_px < surely_not_broken * dark.broken_px) {
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
