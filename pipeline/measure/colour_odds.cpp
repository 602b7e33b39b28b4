#include "measure/colour_odds.h"

#include <algorithm>
#include <cmath>

#include "measure/edge_profile.h"

namespace stripbook::measure {

namespace {

struct Axis {
    float from;
    float cell;
    int cells;
};

// Grey levels 0 to 255 with log_colour's toe; ratios of up to 1.6 to one.
constexpr Axis brightness_axis{2.0F, 0.06F, 60};
constexpr Axis ratio_axis{-0.48F, 0.015F, 64};
constexpr int most_samples = 20000;

// Natural logarithms. These and the shares below were chosen on ten rendered bench shots and a hundred and
// twenty made ones.
constexpr double noise_brightness = 0.06;
constexpr double noise_ratios = 0.011;
constexpr double tinted = 2;  // light in a shadow is a little of another colour
constexpr float any_colour = 5e-6F;

int cell_on(const Axis& axis, float value) {
    return std::clamp(static_cast<int>((value - axis.from) / axis.cell), 0, axis.cells - 1);
}

}  // namespace

ColourCounts::ColourCounts()
    : share_(static_cast<std::size_t>(brightness_axis.cells) * ratio_axis.cells * ratio_axis.cells, 0.F) {}

ColourCounts::ColourCounts(const cv::Mat3f& log_colours, const cv::Mat1b& where) : ColourCounts() {
    const int step = std::max(1, cv::countNonZero(where) / most_samples);
    int seen = 0;
    float counted = 0;
    for (int y = 0; y < log_colours.rows; ++y) {
        for (int x = 0; x < log_colours.cols; ++x) {
            if (where(y, x) != 0 && seen++ % step == 0) {
                share_[cell_of(log_colours(y, x))] += 1;
                counted += 1;
            }
        }
    }
    for (auto& share : share_) {
        share /= std::max(1.F, counted);
    }
}

std::size_t ColourCounts::cell_of(const cv::Vec3f& log_colour) {
    const int cell =
        (cell_on(brightness_axis, log_colour[0]) * ratio_axis.cells + cell_on(ratio_axis, log_colour[1])) *
            ratio_axis.cells +
        cell_on(ratio_axis, log_colour[2]);
    return static_cast<std::size_t>(cell);
}

void ColourCounts::blur(double brightness, double ratios) {
    const auto along = [&](int count, int stride, const std::vector<float>& weights) {
        const int half = static_cast<int>(weights.size() / 2);
        std::vector<float> result(share_.size(), 0.F);
        for (int i = 0; i < static_cast<int>(share_.size()); ++i) {
            const float share = share_[static_cast<std::size_t>(i)];
            if (share <= 0) {
                continue;
            }
            const int place = i / stride % count;
            for (int k = std::max(-half, -place); k <= std::min(half, count - 1 - place); ++k) {
                const int there = i + k * stride;
                const int weight = k + half;
                result[static_cast<std::size_t>(there)] += share * weights[static_cast<std::size_t>(weight)];
            }
        }
        share_ = std::move(result);
    };
    const auto ratio_bell = bell_weights(ratios / static_cast<double>(ratio_axis.cell));
    along(brightness_axis.cells, ratio_axis.cells * ratio_axis.cells,
          bell_weights(brightness / static_cast<double>(brightness_axis.cell)));
    along(ratio_axis.cells, ratio_axis.cells, ratio_bell);
    along(ratio_axis.cells, 1, ratio_bell);
}

ColourCounts ColourCounts::in_light(double darker, double brighter) const {
    const auto cells = [](double step) {
        return static_cast<int>(std::lround(step / static_cast<double>(brightness_axis.cell)));
    };
    const int low = cells(darker);
    const int high = cells(brighter);
    constexpr int stride = ratio_axis.cells * ratio_axis.cells;
    ColourCounts result;
    for (int i = 0; i < static_cast<int>(share_.size()); ++i) {
        const float share = share_[static_cast<std::size_t>(i)];
        if (share <= 0) {
            continue;
        }
        const int place = i / stride;
        for (int k = std::max(low, -place); k <= std::min(high, brightness_axis.cells - 1 - place); ++k) {
            const int there = i + k * stride;
            result.share_[static_cast<std::size_t>(there)] += share / static_cast<float>(high - low + 1);
        }
    }
    return result;
}

GroundColours::GroundColours(const ColourCounts& ground) {
    constexpr double deepest_shadow = -1.5;
    constexpr float in_shadow = 0.3F;
    ColourCounts shadow = ground.in_light(deepest_shadow, 0);
    shadow.blur(noise_brightness, tinted * noise_ratios);
    ColourCounts lit = ground;
    lit.blur(noise_brightness, noise_ratios);
    for (std::size_t i = 0; i < lit.cells(); ++i) {
        share_.push_back((1 - in_shadow) * lit.share(i) + in_shadow * shadow.share(i) + any_colour);
    }
}

ColourOdds GroundColours::odds_of(const ColourCounts& part) const {
    constexpr double darkest_wall = -1;
    constexpr double brightest_edge = 0.4;
    constexpr float of_walls = 0.25F;
    constexpr float most = 3;
    ColourCounts walls = part.in_light(darkest_wall, brightest_edge);
    walls.blur(noise_brightness, 1.5 * noise_ratios);
    ColourCounts face = part;
    face.blur(noise_brightness, noise_ratios);
    std::vector<float> odds;
    for (std::size_t i = 0; i < share_.size(); ++i) {
        const float on_part = (1 - of_walls) * face.share(i) + of_walls * walls.share(i) + any_colour;
        odds.push_back(std::clamp(std::log(on_part / share_[i]), -most, most));
    }
    return ColourOdds(std::move(odds));
}

}  // namespace stripbook::measure
