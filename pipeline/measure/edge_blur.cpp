#include "measure/edge_blur.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

#include "measure/edge_profile.h"
#include "measure/surroundings.h"

namespace stripbook::measure {

namespace {

constexpr double step_px = 0.25;
constexpr int half = 24;  // samples to each side of the edge
constexpr std::size_t samples = 2 * half + 1;
constexpr int places = 24;

using Light = std::vector<double>;

// Light across one side, the mean of many places along it, white first.
std::optional<Light> light_across(const cv::Mat3b& picture, const scale::Plane& plane, cv::Point2d a,
                                  cv::Point2d b, cv::Point2d inward) {
    const cv::Rect2d all(2, 2, picture.cols - 4, picture.rows - 4);
    Light sum(samples, 0);
    int count = 0;
    for (int k = 2; k + 1 < places; ++k) {
        const cv::Point2d place = a + (b - a) * (k / double(places));
        const auto px = scale::pixel_from_plane(plane, place, 0);
        const auto in = scale::pixel_from_plane(plane, place + inward, 0);
        if (!px || !in) {
            continue;
        }
        const cv::Point2d step = (*in - *px) / cv::norm(*in - *px) * step_px;
        if (!all.contains(*px - step * half) || !all.contains(*px + step * half)) {
            continue;
        }
        ++count;
        for (std::size_t i = 0; i < samples; ++i) {
            sum[i] += linear_light(colour_at(picture, *px + step * (static_cast<double>(i) - half)));
        }
    }
    if (count < places / 2) {
        return std::nullopt;
    }
    for (double& light : sum) {
        light /= count;
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
    for (const auto& square : printed_squares_mm(plane)) {
        for (std::size_t i = 0; i < 4; ++i) {
            const cv::Point2d a = square[i];
            const cv::Point2d inward = square[(i + 3) % 4] - a;
            const auto light =
                light_across(picture, plane, a, square[(i + 1) % 4], inward / cv::norm(inward));
            const auto blur = light ? blur_of(*light) : std::nullopt;
            if (blur) {
                blurs.push_back(*blur);
            }
        }
    }
    constexpr std::size_t fewest = 4;
    if (blurs.size() < fewest) {
        return 1;
    }
    const auto middle = blurs.begin() + static_cast<std::ptrdiff_t>(blurs.size() / 2);
    std::nth_element(blurs.begin(), middle, blurs.end());
    return *middle;
}

}  // namespace stripbook::measure
