#include "measure/outline_edge.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <opencv2/imgproc.hpp>

#include "measure/best_path.h"
#include "measure/closed_line.h"
#include "measure/edge_profile.h"
#include "measure/hue_edge.h"
#include "measure/log_colour.h"

namespace stripbook::measure {

namespace {

constexpr double along_px = 1.5;   // between profiles
constexpr double across_px = 0.5;  // between samples of a profile

struct Band {
    std::vector<cv::Point2d> middle;
    std::vector<cv::Point2d> outward;
    std::vector<Profile> profiles;  // from inside to outside
    // The same, moved from a wall's foot to its rim; empty where no wall shows.
    std::vector<Profile> rim_profiles;
    int inner = 0;  // samples inside the middle
};

Band band_around(const cv::Mat3b& picture, const std::vector<cv::Point2d>& rough_px,
                 const OutlineReach& reach, const RimOfFoot& rim_of_foot) {
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
        const cv::Point2d from = band.middle[i] - band.outward[i] * (band.inner * across_px);
        const cv::Point2d step = band.outward[i] * across_px;
        band.profiles.push_back(profile_along(picture, from, step, count_across));
        constexpr double wall_shows_px = 2.5;  // else rim and foot are one edge
        const cv::Point2d to_rim = rim_of_foot ? rim_of_foot(band.middle[i]) - band.middle[i] : cv::Point2d();
        const bool wall = to_rim.dot(band.outward[i]) < -wall_shows_px;
        band.rim_profiles.push_back(wall ? profile_along(picture, from + to_rim, step, count_across)
                                         : Profile());
    }
    return band;
}

// The colours of a profile and its neighbours along the outline, averaged: noise goes, the edge stays.
std::vector<cv::Vec3f> averaged_colours(const std::vector<Profile>& profiles, std::size_t i) {
    constexpr std::size_t neighbours = 2;
    const std::size_t n = profiles.size();
    std::vector<cv::Vec3f> sum(profiles[i].colour.size());
    double count = 0;
    for (std::size_t k = n - neighbours; k <= n + neighbours; ++k) {
        const auto& colour = profiles[(i + k) % n].colour;
        for (std::size_t j = 0; j < std::min(sum.size(), colour.size()); ++j) {
            sum[j] += colour[j];
        }
        count += colour.empty() ? 0 : 1;
    }
    for (auto& colour : sum) {
        colour /= count;
    }
    return sum;
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

// 0 to 1, of an edge against how restless the ground is. Grows as a logarithm, so that a wall against its
// shadow counts beside the bright edge of a face.
double strength_of(float sharp, double ground) {
    constexpr double strong = 25;  // grey levels per px: stronger is no better
    const double above = std::max(0.0, static_cast<double>(sharp) - ground);
    return std::min(1.0, std::log1p(above / ground) / std::log1p(strong / ground));
}

// How good each sample is as the outline: a sharp edge there, none further out, and where a wall shows its
// rim as sharp.
std::vector<float> merit_of(const std::vector<float>& sharp, const std::vector<float>& rim, double ground) {
    constexpr int clear = 5;  // samples beyond an edge that still are its own slope
    constexpr double outer_counts = 0.8;
    constexpr double rim_counts = 1;
    const int n = static_cast<int>(sharp.size());
    const auto strength = [&](int i) { return strength_of(sharp[static_cast<std::size_t>(i)], ground); };
    std::vector<float> merit(sharp.size());
    double beyond = 0;
    for (int i = n - 1; i >= 0; --i) {
        const auto at = static_cast<std::size_t>(i);
        beyond = i + clear < n ? std::max(beyond, strength(i + clear)) : beyond;
        merit[at] = static_cast<float>(strength(i) - outer_counts * beyond);
        if (!rim.empty()) {
            merit[at] += static_cast<float>(rim_counts * strength_of(rim[at], ground));
        }
    }
    return merit;
}

cv::Point2d place(const Band& band, std::size_t i, int at) {
    return band.middle[i] + band.outward[i] * (across_px * (at - band.inner));
}

// The place of the path in the picture's own levels, to a fraction of a pixel.
EdgePoint edge_point(const cv::Mat3b& picture, const Band& band, std::size_t i, int at, const Bloom& bloom) {
    constexpr int half = 16;  // samples
    const cv::Point2d step = band.outward[i] * across_px;
    const cv::Point2d here = place(band, i, at);
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

constexpr double toe = 24;  // grey levels, about where noise ends

// Levels by their logarithm: a dark wall against its shadow is as much of an edge as a bright face against
// the bench.
cv::Mat3b toned(const cv::Mat3b& picture, const std::vector<cv::Point2d>& rough, double margin_px) {
    cv::Mat1b table(1, 256);
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

cv::Vec3f untoned(const cv::Vec3f& levels) {
    constexpr auto most = 255.F;
    const auto per_level = static_cast<float>(std::log1p(255 / toe) / 255);
    cv::Vec3f result;
    for (int c = 0; c < 3; ++c) {
        result[c] = std::min(most, static_cast<float>(toe) * std::expm1(levels[c] * per_level));
    }
    return result;
}

// How much more likely the colours inside each sample are the part's and those outside the ground's than the
// other way round; neighbouring samples tell nearly the same, so each counts little.
std::vector<float> odds_inside(const std::vector<cv::Vec3f>& colour, const HueOdds& hues) {
    constexpr float of_a_sample = 0.06F;
    // Shadow on a brown bench has the hue of rust: that a hue is the part's says less than that it is the
    // ground's.
    constexpr float surely_ground = 2;
    constexpr float maybe_part = 0.5F;
    std::vector<float> sum;
    float inside = 0;
    for (const auto& levels : colour) {
        inside += of_a_sample * std::clamp(hues.of(log_colour(untoned(levels))), -surely_ground, maybe_part);
        sum.push_back(inside);
    }
    return sum;
}

// Sharpness well outside the path: the ground's own.
double ground_sharpness(const std::vector<std::vector<float>>& sharp, const std::vector<int>& path) {
    std::vector<float> values;
    constexpr int clear = 10;
    for (std::size_t i = 0; i < path.size(); ++i) {
        const int beyond = path[i] + clear;
        for (auto k = static_cast<std::size_t>(beyond); k < sharp[i].size(); k += 3) {
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

// Of edges where each profile lies, and of rims beside it.
struct Sharpness {
    std::vector<std::vector<float>> here;
    std::vector<std::vector<float>> rim;
    std::vector<std::vector<float>> inside;
};

std::vector<std::vector<float>> merits(const Sharpness& sharp, double ground) {
    std::vector<std::vector<float>> merit;
    for (std::size_t i = 0; i < sharp.here.size(); ++i) {
        merit.push_back(merit_of(sharp.here[i], sharp.rim[i], ground));
        for (std::size_t k = 0; k < sharp.inside[i].size(); ++k) {
            merit.back()[k] += sharp.inside[i][k];
        }
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

// The path through one band, and the share of its places where no other would do as well.
struct Traced {
    Band band;
    std::vector<int> path;
    double clear_share = 0;
};

Traced traced(const cv::Mat3b& tones, const std::vector<cv::Point2d>& rough, const OutlineReach& reach,
              const RimOfFoot& rim_of_foot, const HueOdds& hues) {
    Traced result{band_around(tones, rough, reach, rim_of_foot), {}, 0};
    const Band& band = result.band;
    Sharpness sharp;
    for (std::size_t i = 0; i < band.profiles.size(); ++i) {
        const auto colour = averaged_colours(band.profiles, i);
        sharp.here.push_back(sharpness_of(colour));
        // A wall in its own shadow has no hue to be told by.
        sharp.inside.push_back(band.rim_profiles[i].colour.empty() ? odds_inside(colour, hues)
                                                                   : std::vector<float>());
        sharp.rim.push_back(sharpness_of(averaged_colours(band.rim_profiles, i)));
    }
    // What counts depends on how restless the ground is, which is known only outside the part.
    constexpr double first_ground = 3;
    const double ground = ground_sharpness(sharp.here, best_path(merits(sharp, first_ground)));
    const auto merit = merits(sharp, ground);
    result.path = best_path(merit);
    double clear = 0;
    for (std::size_t i = 0; i < result.path.size(); ++i) {
        clear += doubtful(merit[i], result.path[i]) ? 0 : 1;
    }
    result.clear_share = clear / static_cast<double>(result.path.size());
    return result;
}

// What beside the edge is in the part's own shadow hides it from the brightness, not from the hue.
void move_to_hue_edge(const cv::Mat3b& picture, const Band& band, const std::vector<int>& path,
                      const HueOdds& hues, OutlineEdge& edge) {
    constexpr int half = 16;  // samples
    constexpr std::size_t neighbours = 3;
    const std::size_t n = path.size();
    std::vector<std::vector<cv::Vec3f>> around;
    for (std::size_t i = 0; i < n; ++i) {
        const cv::Point2d step = band.outward[i] * across_px;
        around.push_back(
            profile_along(picture, place(band, i, path[i]) - step * half, step, 2 * half + 1).colour);
    }
    for (std::size_t i = 0; i < n; ++i) {
        std::vector<cv::Vec3f> mean(around[i].size());
        for (std::size_t k = n - neighbours; k <= n + neighbours; ++k) {
            for (std::size_t j = 0; j < mean.size(); ++j) {
                mean[j] += around[(i + k) % n][j] / static_cast<double>(2 * neighbours + 1);
            }
        }
        const auto at = end_of_part_light(mean, across_px, hues);
        if (!at || !band.rim_profiles[i].colour.empty()) {
            continue;
        }
        constexpr double least_shadow_px = 1.2;  // else the brightness tells the place better
        const cv::Point2d px = place(band, i, path[i]) + band.outward[i] * ((*at - half) * across_px);
        if ((edge.points[i].px - px).dot(band.outward[i]) > least_shadow_px) {
            edge.points[i].px = px;
        }
    }
}

}  // namespace

OutlineEdge find_outline_edge(const cv::Mat3b& picture, const std::vector<cv::Point2d>& rough_px,
                              const OutlineReach& reach, const Bloom& bloom, const RimOfFoot& rim_of_foot,
                              const HueOdds& hues) {
    const std::vector<cv::Point2d> rough = clockwise(rough_px);
    const cv::Mat3b tones = toned(picture, rough, 100);
    const Traced first = traced(tones, rough, reach, rim_of_foot, hues);
    std::vector<cv::Point2d> nearer;
    for (std::size_t i = 0; i < first.path.size(); ++i) {
        nearer.push_back(place(first.band, i, first.path[i]));
    }
    constexpr double near_px = 10;
    const Traced second = traced(tones, clockwise(opened_and_closed(nearer, reach.thin_px)),
                                 {near_px, near_px, reach.thin_px}, rim_of_foot, hues);
    OutlineEdge edge;
    edge.clear_share = first.clear_share;
    for (std::size_t i = 0; i < second.path.size(); ++i) {
        edge.points.push_back(edge_point(picture, second.band, i, second.path[i], bloom));
    }
    move_to_hue_edge(picture, second.band, second.path, hues, edge);
    std::vector<cv::Point2f> traced_px;
    for (const auto& point : edge.points) {
        traced_px.emplace_back(point.px);
    }
    for (const auto& px : nearer) {
        edge.left_out_px = std::max(edge.left_out_px, -cv::pointPolygonTest(traced_px, px, true));
    }
    return edge;
}

}  // namespace stripbook::measure
