#include "measure/edge_blur.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

#include "measure/edge_profile.h"
#include "measure/quantile.h"
#include "measure/square_sides.h"

namespace stripbook::measure {

namespace {

constexpr double step_px = 0.25;
constexpr int half = 24;  // samples to each side of the edge
constexpr std::size_t samples = 2 * half + 1;

using Light = std::vector<double>;

// Light across one side, the mean of many places along it, white first. Beside a corner the other side's edge
// is near.
std::optional<Light> light_across(const cv::Mat3b& picture, const std::vector<SidePlace>& side) {
    constexpr std::size_t fewest = places_on_side / 2 + 3;
    if (side.size() < fewest) {
        return std::nullopt;
    }
    Light sum(samples, 0);
    for (std::size_t k = 1; k + 1 < side.size(); ++k) {
        const cv::Point2d step = side[k].into_black * step_px;
        for (std::size_t i = 0; i < samples; ++i) {
            sum[i] += linear_light(colour_at(picture, side[k].px + step * (static_cast<double>(i) - half)));
        }
    }
    for (double& light : sum) {
        light /= static_cast<double>(side.size() - 2);
    }
    return sum;
}

std::optional<double> blur_of(const Light& light) {
    constexpr std::size_t level = 8;  // samples at each end that make its level
    double white = 0;
    double black = 0;
    for (std::size_t i = 0; i < level; ++i) {
        white += light[i] / level;
        black += light[light.size() - 1 - i] / level;
    }
    constexpr double least_contrast = 0.5;
    if (white - black < least_contrast * (white + black)) {
        return std::nullopt;
    }
    double sum = 0;
    for (const double here : light) {
        const double share = (here - black) / (white - black);
        sum += share * (1 - share) * step_px;
    }
    return sum > 0 ? std::optional(sum * std::sqrt(CV_PI)) : std::nullopt;
}

}  // namespace

double edge_blur_px(const cv::Mat3b& picture, const scale::Plane& plane) {
    std::vector<double> blurs;
    constexpr double margin_px = half * step_px + 2;
    for (const auto& side : square_sides(plane, picture.size(), margin_px)) {
        const auto light = light_across(picture, side);
        const auto blur = light ? blur_of(*light) : std::nullopt;
        if (blur) {
            blurs.push_back(*blur);
        }
    }
    constexpr std::size_t fewest = 4;
    if (blurs.size() < fewest) {
        return 1;
    }
    return middle_value(std::move(blurs));
}

}  // namespace stripbook::measure
