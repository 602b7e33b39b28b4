#include "measure/hue_odds.h"

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>

namespace stripbook::measure {

namespace {

// The two ratios of log_colour, natural logarithms.
constexpr float from = -0.48F;
constexpr float cell = 0.015F;
constexpr int cells = 64;

int cell_of(float ratio) {
    return std::clamp(static_cast<int>((ratio - from) / cell), 0, cells - 1);
}

cv::Mat1f shares_of(const cv::Mat3f& log_colours, const cv::Mat1b& where) {
    cv::Mat1f shares(cells, cells, 0.F);
    for (int y = 0; y < log_colours.rows; ++y) {
        for (int x = 0; x < log_colours.cols; ++x) {
            if (where(y, x) != 0) {
                shares(cell_of(log_colours(y, x)[1]), cell_of(log_colours(y, x)[2])) += 1;
            }
        }
    }
    shares /= std::max(1.0, cv::sum(shares)[0]);
    // Noise, and light in a shadow is a little of another colour.
    constexpr double spread = 2;  // cells
    cv::GaussianBlur(shares, shares, {}, spread, spread, cv::BORDER_REPLICATE);
    return shares;
}

}  // namespace

HueOdds::HueOdds(const cv::Mat3f& log_colours, const cv::Mat1b& ground, const cv::Mat1b& part)
    : odds_(cells, cells, 0.F) {
    constexpr float any_hue = 3e-4F;
    constexpr float most = 3;
    const cv::Mat1f on_ground = shares_of(log_colours, ground);
    const cv::Mat1f on_part = shares_of(log_colours, part);
    for (int y = 0; y < cells; ++y) {
        for (int x = 0; x < cells; ++x) {
            odds_(y, x) =
                std::clamp(std::log((on_part(y, x) + any_hue) / (on_ground(y, x) + any_hue)), -most, most);
        }
    }
    // Hues that hardly differ would tell stains from clean paint rather than part from ground. On ten
    // rendered bench shots and a hundred made ones they lie less than 2 apart (grey on grey) or more than 5.
    constexpr double alike = 2.5;
    constexpr double apart = 4.5;
    const double distance = odds_.dot(on_part) - odds_.dot(on_ground);
    sure_ = std::clamp((distance - alike) / (apart - alike), 0.0, 1.0);
    odds_ *= sure_;
}

float HueOdds::of(const cv::Vec3f& log_colour) const {
    if (odds_.empty()) {
        return 0;
    }
    // Grey levels of about 12 to 45: darker has no hue, brighter has all of it.
    constexpr float no_hue = 3;
    constexpr float full_hue = 4;
    const float hue = std::clamp((log_colour[0] - no_hue) / (full_hue - no_hue), 0.F, 1.F);
    return hue * odds_(cell_of(log_colour[1]), cell_of(log_colour[2]));
}

}  // namespace stripbook::measure
