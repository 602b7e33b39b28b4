#include "measure/outline_edge.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "measure/edge_profile.h"

namespace stripbook::measure {

namespace {

constexpr double along_px = 1.5;    // between profiles
constexpr double across_px = 0.5;   // between samples of a profile
constexpr double step_cost = 0.15;  // of one sample of bend, in shares of a strong edge

double wrapped_length(const std::vector<cv::Point2d>& points) {
    double length = 0;
    for (std::size_t i = 0; i < points.size(); ++i) {
        length += cv::norm(points[(i + 1) % points.size()] - points[i]);
    }
    return length;
}

std::vector<cv::Point2d> evenly_spaced(const std::vector<cv::Point2d>& points, std::size_t count) {
    std::vector<cv::Point2d> result;
    const double step = wrapped_length(points) / static_cast<double>(count);
    double ahead = 0;
    for (std::size_t i = 0; i < points.size() && result.size() < count; ++i) {
        const cv::Point2d a = points[i];
        const cv::Point2d d = points[(i + 1) % points.size()] - a;
        const double length = cv::norm(d);
        for (; ahead < length && result.size() < count; ahead += step) {
            result.push_back(a + d * (ahead / length));
        }
        ahead -= length;
    }
    return result;
}

// Mean over 2 `half` + 1 neighbours on the closed line.
std::vector<cv::Point2d> rounded_off(const std::vector<cv::Point2d>& points, int half) {
    const int n = static_cast<int>(points.size());
    std::vector<cv::Point2d> result(points.size());
    for (int i = 0; i < n; ++i) {
        for (int k = -half; k <= half; ++k) {
            result[static_cast<std::size_t>(i)] += points[static_cast<std::size_t>((i + k + 2 * n) % n)];
        }
        result[static_cast<std::size_t>(i)] /= 2 * half + 1;
    }
    return result;
}

double signed_area(const std::vector<cv::Point2d>& points) {
    double area = 0;
    for (std::size_t i = 0; i < points.size(); ++i) {
        area += points[i].cross(points[(i + 1) % points.size()]);
    }
    return area / 2;
}

struct Band {
    std::vector<cv::Point2d> middle;
    std::vector<cv::Point2d> outward;
    std::vector<Profile> profiles;  // from inside to outside
    int inner = 0;                  // samples inside the middle
};

Band band_around(const cv::Mat3b& picture, const std::vector<cv::Point2d>& rough_px,
                 const OutlineReach& reach) {
    Band band;
    const auto count = static_cast<std::size_t>(std::max(32.0, wrapped_length(rough_px) / along_px));
    const auto even = evenly_spaced(rough_px, count);
    constexpr int round_place = 4;
    constexpr int round_normal = 5;
    band.middle = rounded_off(even, round_place);
    const auto smooth = rounded_off(even, round_normal);
    band.inner = static_cast<int>(std::ceil(reach.inward_px / across_px));
    const int count_across = band.inner + 1 + static_cast<int>(std::ceil(reach.outward_px / across_px));
    const std::size_t n = band.middle.size();
    for (std::size_t i = 0; i < n; ++i) {
        const cv::Point2d along = smooth[(i + 3) % n] - smooth[(i + n - 3) % n];
        const double length = std::max(1e-9, cv::norm(along));
        band.outward.emplace_back(along.y / length, -along.x / length);
        band.profiles.push_back(profile_along(picture,
                                              band.middle[i] - band.outward[i] * (band.inner * across_px),
                                              band.outward[i] * across_px, count_across));
    }
    return band;
}

// How good each sample is as the outline: a strong slope there, none further out. Slopes from `strong` grey
// levels per px up are alike.
std::vector<float> merit_of(const std::vector<float>& slope, double strong) {
    constexpr int clear = 5;  // samples beyond an edge that still are its own slope
    constexpr double outer_counts = 0.8;
    const int n = static_cast<int>(slope.size());
    const auto strength = [&](int i) {
        return std::min(1.0, static_cast<double>(slope[static_cast<std::size_t>(i)]) / strong);
    };
    std::vector<float> merit(slope.size());
    double beyond = 0;
    for (int i = n - 1; i >= 0; --i) {
        beyond = i + clear < n ? std::max(beyond, strength(i + clear)) : beyond;
        merit[static_cast<std::size_t>(i)] = static_cast<float>(strength(i) - outer_counts * beyond);
    }
    return merit;
}

// The best path through the band, one sample a profile; run twice around so that its ends meet.
std::vector<int> best_path(const std::vector<std::vector<float>>& merit) {
    const int n = static_cast<int>(merit.size());
    const int width = static_cast<int>(merit.front().size());
    constexpr int most_step = 3;
    std::vector<std::vector<signed char>> from(static_cast<std::size_t>(2 * n),
                                               std::vector<signed char>(static_cast<std::size_t>(width), 0));
    std::vector<double> best(static_cast<std::size_t>(width), 0);
    for (int round = 0; round < 2 * n; ++round) {
        const auto& here = merit[static_cast<std::size_t>(round % n)];
        std::vector<double> next(best.size(), -std::numeric_limits<double>::max());
        for (int j = 0; j < width; ++j) {
            for (int d = -most_step; d <= most_step; ++d) {
                const int k = j + d;
                if (k < 0 || k >= width) {
                    continue;
                }
                const double value = best[static_cast<std::size_t>(k)] - step_cost * d * d / 2 +
                                     static_cast<double>(here[static_cast<std::size_t>(j)]);
                if (value > next[static_cast<std::size_t>(j)]) {
                    next[static_cast<std::size_t>(j)] = value;
                    from[static_cast<std::size_t>(round)][static_cast<std::size_t>(j)] =
                        static_cast<signed char>(d);
                }
            }
        }
        best = next;
    }
    int j = static_cast<int>(std::max_element(best.begin(), best.end()) - best.begin());
    std::vector<int> path(static_cast<std::size_t>(n));
    for (int round = 2 * n - 1; round >= n / 2; --round) {
        // The middle of the two rounds is settled at both ends.
        if (round < n + n / 2) {
            path[static_cast<std::size_t>(round % n)] = j;
        }
        j += from[static_cast<std::size_t>(round)][static_cast<std::size_t>(j)];
    }
    return path;
}

EdgePoint edge_point(const Band& band, std::size_t i, int at, const Bloom& bloom) {
    const Profile& profile = band.profiles[i];
    const double peak = peak_near(profile.slope, at);
    EdgePoint point;
    point.outward = band.outward[i];
    point.contrast = contrast_across(profile, static_cast<int>(std::lround(peak)), 1 / across_px);
    point.slope = static_cast<double>(profile.slope[static_cast<std::size_t>(std::lround(peak))]);
    // Bright outside: the edge seen lies inside the true one.
    const double off = (peak - band.inner) * across_px + bloom.px_per_contrast * point.contrast;
    point.px = band.middle[i] + point.outward * off;
    return point;
}

// Slopes well outside the path: the ground's own.
double ground_slope(const Band& band, const std::vector<int>& path) {
    std::vector<float> slopes;
    constexpr int clear = 10;
    for (std::size_t i = 0; i < path.size(); ++i) {
        const auto& slope = band.profiles[i].slope;
        for (std::size_t k = static_cast<std::size_t>(path[i] + clear); k < slope.size(); k += 4) {
            slopes.push_back(slope[k]);
        }
    }
    if (slopes.empty()) {
        return 0;
    }
    constexpr double high = 0.9;
    const auto place =
        slopes.begin() + static_cast<std::ptrdiff_t>(high * static_cast<double>(slopes.size() - 1));
    std::nth_element(slopes.begin(), place, slopes.end());
    return static_cast<double>(*place);
}

std::vector<int> path_for(const Band& band, double strong) {
    std::vector<std::vector<float>> merit;
    for (const auto& profile : band.profiles) {
        merit.push_back(merit_of(profile.slope, strong));
    }
    return best_path(merit);
}

}  // namespace

OutlineEdge find_outline_edge(const cv::Mat3b& picture, const std::vector<cv::Point2d>& rough_px,
                              const OutlineReach& reach, const Bloom& bloom) {
    std::vector<cv::Point2d> rough = rough_px;
    if (signed_area(rough) < 0) {
        std::reverse(rough.begin(), rough.end());
    }
    const Band band = band_around(picture, rough, reach);
    // What counts as a strong edge depends on how restless the ground is: first any clear one, then those.
    constexpr double first_strong = 25;
    constexpr double weakest_strong = 6;
    constexpr double above_ground = 4;
    const double ground = ground_slope(band, path_for(band, first_strong));
    const std::vector<int> path =
        path_for(band, std::clamp(above_ground * ground, weakest_strong, first_strong));
    OutlineEdge edge;
    double clear = 0;
    for (std::size_t i = 0; i < path.size(); ++i) {
        edge.points.push_back(edge_point(band, i, path[i], bloom));
        constexpr double clearly_above = 1.5;
        clear += edge.points.back().slope > clearly_above * ground ? 1 : 0;
    }
    edge.clear_share = clear / static_cast<double>(path.size());
    return edge;
}

}  // namespace stripbook::measure
