#include "measure/hue_odds.h"

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>

namespace stripbook::measure {

namespace {

// The two ratios of log_colour, natural logarithms.
constexpr float from = -0.48F;
constexpr float cell = 0.0075F;
constexpr int cells = 128;

// Cells: noise, and light in a shadow that is a little of another colour.
constexpr double wide_spread = 4;
// Cells: noise alone, at a quarter of the picture's size. In the rendered shots a shadow on the bench has the
// bench's hue within one cell.
constexpr double fine_spread = 1.2;

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
    return shares;
}

struct Told {
    cv::Mat1f odds;
    double sure = 0;
};

// What the shares tell when each hue stands for those around it too.
Told told_by(const cv::Mat1f& ground, const cv::Mat1f& part, double spread) {
    constexpr float any_hue = 0.75e-4F;
    constexpr float most = 3;
    cv::Mat1f on_ground;
    cv::Mat1f on_part;
    cv::GaussianBlur(ground, on_ground, {}, spread, spread, cv::BORDER_REPLICATE);
    cv::GaussianBlur(part, on_part, {}, spread, spread, cv::BORDER_REPLICATE);
    Told told{cv::Mat1f(cells, cells, 0.F), 0};
    for (int y = 0; y < cells; ++y) {
        for (int x = 0; x < cells; ++x) {
            told.odds(y, x) =
                std::clamp(std::log((on_part(y, x) + any_hue) / (on_ground(y, x) + any_hue)), -most, most);
        }
    }
    // Hues that hardly differ would tell stains from clean paint rather than part from ground. With the wide
    // spread, on ten rendered bench shots and a hundred made ones they lie less than 2 apart (grey on grey)
    // or more than 5.
    constexpr double alike = 2.5;
    constexpr double apart = 4.5;
    const double distance = told.odds.dot(on_part) - told.odds.dot(on_ground);
    told.sure = std::clamp((distance - alike) / (apart - alike), 0.0, 1.0);
    return told;
}

}  // namespace

HueOdds::HueOdds(const cv::Mat3f& log_colours, const cv::Mat1b& ground, const cv::Mat1b& part) {
    const cv::Mat1f on_ground = shares_of(log_colours, ground);
    const cv::Mat1f on_part = shares_of(log_colours, part);
    const Told wide = told_by(on_ground, on_part, wide_spread);
    const Told fine = told_by(on_ground, on_part, fine_spread);
    plain_ = wide.sure;
    const double else_fine = (1 - wide.sure) * fine.sure;
    sure_ = wide.sure + else_fine;
    odds_ = wide.sure * wide.odds + else_fine * fine.odds;
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
