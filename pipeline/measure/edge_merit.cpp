#include "measure/edge_merit.h"

#include <algorithm>
#include <cmath>

#include "measure/quantile.h"

namespace stripbook::measure {

namespace {

constexpr std::size_t neighbours = 2;

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

// 0 to 1, of each edge against how restless the ground is. Grows as a logarithm, so that a wall against its
// shadow counts beside the bright edge of a face.
std::vector<double> strengths_of(const std::vector<float>& sharp, double ground) {
    constexpr double strong = 25;  // grey levels per px: stronger is no better
    const double most = std::log1p(strong / ground);
    std::vector<double> strengths;
    strengths.reserve(sharp.size());
    for (const float s : sharp) {
        const double above = static_cast<double>(s) - ground;
        strengths.push_back(above > 0 ? std::min(1.0, std::log1p(above / ground) / most) : 0);
    }
    return strengths;
}

// How good each sample is as the outline: a sharp edge there, none further out, and where a wall shows its
// rim as sharp.
std::vector<float> merit_of(const std::vector<float>& sharp, const std::vector<float>& rim, double ground,
                            const EdgeWeights& weights) {
    constexpr double rim_over_foot = 2;
    constexpr std::size_t clear = 5;  // samples beyond an edge that still are its own slope
    const auto here = strengths_of(sharp, ground);
    const auto there = strengths_of(rim, ground);
    std::vector<float> merit(sharp.size());
    double beyond = 0;
    for (std::size_t i = sharp.size(); i-- > 0;) {
        beyond = i + clear < here.size() ? std::max(beyond, here[i + clear]) : beyond;
        const double at_rim = there.empty() ? 0 : there[i];
        const double counts = weights.foot_must_show ? std::min(at_rim, rim_over_foot * here[i]) : at_rim;
        merit[i] = static_cast<float>(here[i] - weights.outer_counts * beyond + counts);
    }
    return merit;
}

// Shadow on a brown bench has the hue of rust: that a hue is the part's says less than that it is the
// ground's.
constexpr float maybe_part = 0.5F;

// How much more likely the colours inside each sample are the part's and those outside the ground's than the
// other way round; neighbouring samples tell nearly the same, so each counts little.
std::vector<float> odds_inside(const std::vector<cv::Vec3f>& colour, const std::vector<bool>& seen_through,
                               const std::function<float(const cv::Vec3f&)>& odds, float most) {
    constexpr float of_a_sample = 0.06F;
    constexpr float surely_ground = 2;
    std::vector<float> sum;
    float inside = 0;
    for (std::size_t i = 0; i < colour.size(); ++i) {
        inside += seen_through[i] ? 0 : of_a_sample * std::clamp(odds(colour[i]), -surely_ground, most);
        sum.push_back(inside);
    }
    return sum;
}

// Falls no lower under the most so far.
std::vector<float> limited(const std::vector<float>& sum, double most_below) {
    std::vector<float> result;
    result.reserve(sum.size());
    double before = 0;
    double here = 0;
    double most = 0;
    for (const float value : sum) {
        here = std::max(here + static_cast<double>(value) - before, most - most_below);
        most = std::max(most, here);
        before = static_cast<double>(value);
        result.push_back(static_cast<float>(here));
    }
    return result;
}

void add(const std::vector<float>& values, std::vector<float>& to) {
    for (std::size_t k = 0; k < values.size(); ++k) {
        to[k] += values[k];
    }
}

}  // namespace

EdgeSigns edge_signs(const EdgeBand& band, const std::function<float(const cv::Vec3f& levels)>& odds,
                     const std::function<bool(cv::Point2d px)>& seen_through) {
    EdgeSigns signs;
    for (std::size_t i = 0; i < band.profiles.size(); ++i) {
        const auto colour = averaged_colours(band.profiles, i, neighbours);
        std::vector<float> sharp = sharpness_of(colour);
        std::vector<bool> through(colour.size());
        for (std::size_t k = 0; k < colour.size(); ++k) {
            through[k] = seen_through(band.place(i, static_cast<int>(k)));
            sharp[k] = through[k] ? 0 : sharp[k];
        }
        signs.here.push_back(std::move(sharp));
        // A wall in its own shadow has hardly a hue to be told by.
        const bool wall = !band.rim_profiles[i].colour.empty();
        signs.inside.push_back(odds_inside(colour, through, odds, wall ? 0 : maybe_part));
        signs.rim.push_back(sharpness_of(averaged_colours(band.rim_profiles, i, neighbours)));
    }
    return signs;
}

SampleValues edge_merits(const EdgeSigns& signs, double ground, const EdgeWeights& weights) {
    SampleValues merits;
    for (std::size_t i = 0; i < signs.here.size(); ++i) {
        merits.push_back(merit_of(signs.here[i], signs.rim[i], ground, weights));
        const bool wall = !signs.rim[i].empty();
        if (!wall || weights.hue_at_walls) {
            add(limited(signs.inside[i], weights.most_against), merits.back());
        }
    }
    return merits;
}

double ground_sharpness(const SampleValues& sharp, const std::vector<int>& path) {
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
    return std::max(least, static_cast<double>(value_at_share(std::move(values), high)));
}

}  // namespace stripbook::measure
