#include "measure/outline_edge.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <opencv2/imgproc.hpp>

#include "measure/edge_profile.h"

namespace stripbook::measure {

namespace {

constexpr double along_px = 1.5;    // between profiles
constexpr double across_px = 0.5;   // between samples of a profile
constexpr double step_cost = 0.25;  // of one sample of bend, in shares of a strong edge

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

// The colours of a profile and its neighbours along the outline, averaged: noise goes, the edge stays.
std::vector<cv::Vec3f> averaged_colours(const Band& band, std::size_t i) {
    constexpr std::size_t neighbours = 2;
    const std::size_t n = band.profiles.size();
    std::vector<cv::Vec3f> mean(band.profiles[i].colour.size());
    for (std::size_t k = n - neighbours; k <= n + neighbours; ++k) {
        const auto& colour = band.profiles[(i + k) % n].colour;
        for (std::size_t j = 0; j < mean.size(); ++j) {
            mean[j] += colour[j] / static_cast<double>(2 * neighbours + 1);
        }
    }
    return mean;
}

// How sharp each sample's edge is, grey levels per px: its slope less the mean slope around it. The soft edge
// of a shadow has a slope but no sharpness.
std::vector<float> sharpness_of(const std::vector<cv::Vec3f>& colour) {
    constexpr int around = 8;  // samples
    const int n = static_cast<int>(colour.size());
    std::vector<float> sharp(colour.size(), 0);
    for (int i = 1; i + 1 < n; ++i) {
        const auto at = [&](int k) { return colour[static_cast<std::size_t>(std::clamp(k, 0, n - 1))]; };
        const cv::Vec3f slope = (at(i + 1) - at(i - 1)) / (2 * across_px);
        const cv::Vec3f mean = (at(i + around) - at(i - around)) / (2 * around * across_px);
        sharp[static_cast<std::size_t>(i)] =
            static_cast<float>(std::max(0.0, cv::norm(slope) - cv::norm(mean)));
    }
    return sharp;
}

// How good each sample is as the outline: a sharp edge there, none further out. Strength grows as a
// logarithm, so that a wall against its shadow counts beside the bright edge of a face.
std::vector<float> merit_of(const std::vector<float>& sharp, double ground) {
    constexpr int clear = 5;  // samples beyond an edge that still are its own slope
    constexpr double outer_counts = 0.8;
    constexpr double strong = 25;  // grey levels per px: stronger is no better
    const int n = static_cast<int>(sharp.size());
    const auto strength = [&](int i) {
        const double above = std::max(0.0, static_cast<double>(sharp[static_cast<std::size_t>(i)]) - ground);
        return std::min(1.0, std::log1p(above / ground) / std::log1p(strong / ground));
    };
    std::vector<float> merit(sharp.size());
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

// The place of the path in the picture's own levels, to a fraction of a pixel.
EdgePoint edge_point(const cv::Mat3b& picture, const Band& band, std::size_t i, int at, const Bloom& bloom) {
    constexpr int half = 16;  // samples
    const cv::Point2d step = band.outward[i] * across_px;
    const cv::Point2d here = band.middle[i] + step * (at - band.inner);
    const Profile profile = profile_along(picture, here - step * half, step, 2 * half + 1);
    const double peak = peak_near(profile.slope, half);
    EdgePoint point;
    point.outward = band.outward[i];
    point.contrast = contrast_across(profile, static_cast<int>(std::lround(peak)), 1 / across_px);
    point.slope = static_cast<double>(profile.slope[static_cast<std::size_t>(std::lround(peak))]);
    // Bright outside: the edge seen lies inside the true one.
    point.px = here + point.outward * ((peak - half) * across_px + bloom.px_per_contrast * point.contrast);
    return point;
}

// Levels by their logarithm: a dark wall against its shadow is as much of an edge as a bright face against
// the bench.
cv::Mat3b toned(const cv::Mat3b& picture, const std::vector<cv::Point2d>& rough, double margin_px) {
    cv::Mat1b table(1, 256);
    constexpr double toe = 24;  // grey levels, about where noise ends
    for (int v = 0; v < 256; ++v) {
        table(v) = cv::saturate_cast<uchar>(255 * std::log1p(v / toe) / std::log1p(255 / toe));
    }
    const std::vector<cv::Point2f> outline(rough.begin(), rough.end());
    const int margin = static_cast<int>(margin_px);
    cv::Rect box = cv::boundingRect(outline);
    box = cv::Rect(box.x - margin, box.y - margin, box.width + 2 * margin, box.height + 2 * margin) &
          cv::Rect({0, 0}, picture.size());
    cv::Mat3b result = picture.clone();
    cv::Mat3b part = result(box);
    cv::LUT(picture(box), table, part);
    return result;
}

// Sharpness well outside the path: the ground's own.
double ground_sharpness(const std::vector<std::vector<float>>& sharp, const std::vector<int>& path) {
    std::vector<float> values;
    constexpr int clear = 10;
    for (std::size_t i = 0; i < path.size(); ++i) {
        for (std::size_t k = static_cast<std::size_t>(path[i] + clear); k < sharp[i].size(); k += 3) {
            values.push_back(sharp[i][k]);
        }
    }
    constexpr double least = 1;  // grey levels per px
    if (values.empty()) {
        return least;
    }
    constexpr double high = 0.9;
    const auto place =
        values.begin() + static_cast<std::ptrdiff_t>(high * static_cast<double>(values.size() - 1));
    std::nth_element(values.begin(), place, values.end());
    return std::max(least, static_cast<double>(*place));
}

std::vector<std::vector<float>> merits(const std::vector<std::vector<float>>& sharp, double ground) {
    std::vector<std::vector<float>> merit;
    for (const auto& profile : sharp) {
        merit.push_back(merit_of(profile, ground));
    }
    return merit;
}

// Whether another place on the profile is as good as the path's.
bool doubtful(const std::vector<float>& merit, int at) {
    constexpr int apart = 6;
    constexpr float as_good = 0.1F;
    for (int k = 0; k < static_cast<int>(merit.size()); ++k) {
        if (std::abs(k - at) > apart &&
            merit[static_cast<std::size_t>(k)] > merit[static_cast<std::size_t>(at)] - as_good) {
            return true;
        }
    }
    return false;
}

}  // namespace

OutlineEdge find_outline_edge(const cv::Mat3b& picture, const std::vector<cv::Point2d>& rough_px,
                              const OutlineReach& reach, const Bloom& bloom) {
    std::vector<cv::Point2d> rough = rough_px;
    if (signed_area(rough) < 0) {
        std::reverse(rough.begin(), rough.end());
    }
    const Band band = band_around(toned(picture, rough, 100), rough, reach);
    std::vector<std::vector<float>> sharp;
    for (std::size_t i = 0; i < band.profiles.size(); ++i) {
        sharp.push_back(sharpness_of(averaged_colours(band, i)));
    }
    // What counts depends on how restless the ground is, which is known only outside the part.
    constexpr double first_ground = 3;
    const double ground = ground_sharpness(sharp, best_path(merits(sharp, first_ground)));
    const auto merit = merits(sharp, ground);
    const std::vector<int> path = best_path(merit);
    OutlineEdge edge;
    double clear = 0;
    for (std::size_t i = 0; i < path.size(); ++i) {
        edge.points.push_back(edge_point(picture, band, i, path[i], bloom));
        clear += doubtful(merit[i], path[i]) ? 0 : 1;
    }
    edge.clear_share = clear / static_cast<double>(path.size());
    return edge;
}

}  // namespace stripbook::measure
