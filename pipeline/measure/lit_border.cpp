#include "measure/lit_border.h"

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>
#include <optional>

#include "measure/edge_profile.h"
#include "measure/quantile.h"

namespace stripbook::measure {

namespace {

constexpr double step_px = 0.5;
constexpr double beyond_mm = 0.5;  // the end of the light: how far the darkest place may lie

struct Ray {
    cv::Point2d from_mm;
    cv::Point2d outward;  // unit vector
};

double light_in_the_middle(const ViewLight& bench, cv::Point2d mm) {
    constexpr int around_px = 2;
    std::vector<double> light;
    for (int j = -around_px; j <= around_px; ++j) {
        for (int i = -around_px; i <= around_px; ++i) {
            light.push_back(bench.at(mm + cv::Point2d(i, j) / bench.px_per_mm()));
        }
    }
    return middle_value(std::move(light));
}

std::vector<float> light_along(const ViewLight& bench, const Ray& ray, double farthest_mm) {
    constexpr double smoothed_px = 1;
    const double step_mm = step_px / bench.px_per_mm();
    std::vector<float> light(static_cast<std::size_t>((farthest_mm + beyond_mm) / step_mm));
    for (std::size_t i = 0; i < light.size(); ++i) {
        light[i] =
            static_cast<float>(bench.at(ray.from_mm + (step_mm * static_cast<double>(i)) * ray.outward));
    }
    cv::Mat1f row(1, static_cast<int>(light.size()), light.data());
    cv::GaussianBlur(row, row, {0, 1}, smoothed_px / step_px, 0, cv::BORDER_REPLICATE);
    return light;
}

// The steepest place, in samples: blurring leaves it where it is, in linear light. Looked for about where the
// light is halfway from `lit` to the darkest place just beyond; `half`: surely ended there.
std::optional<double> light_ends(const std::vector<float>& light, double lit, double half, double step_mm) {
    constexpr double about_mm = 0.35;
    const auto dark = std::find_if(light.begin(), light.end(), [&](float l) { return l < half; });
    const auto beyond = static_cast<std::ptrdiff_t>(beyond_mm / step_mm);
    if (dark == light.begin() || light.end() - dark < beyond) {
        return std::nullopt;
    }
    const double level = (lit + static_cast<double>(*std::min_element(dark, dark + beyond))) / 2;
    const auto ends = std::find_if(light.begin(), light.end(), [&](float l) { return l < level; });
    const auto about = static_cast<std::ptrdiff_t>(about_mm / step_mm);
    if (ends - light.begin() <= about || light.end() - ends <= about + 1) {
        return std::nullopt;
    }
    std::vector<float> slope;
    slope.reserve(static_cast<std::size_t>(2 * about + 1));
    for (auto at = ends - about; at <= ends + about; ++at) {
        slope.push_back(*(at - 1) - *(at + 1));
    }
    const auto steepest = std::max_element(slope.begin() + 1, slope.end() - 1) - slope.begin();
    return static_cast<double>(ends - about - light.begin()) + peak_near(slope, static_cast<int>(steepest));
}

}  // namespace

std::vector<cv::Point2d> lit_border(const ViewLight& bench, const Circle& hole_mm, const CastShadow& shadow,
                                    double farthest_mm) {
    constexpr int rays = 180;
    constexpr std::size_t fewest = 120;
    const double step_mm = step_px / bench.px_per_mm();
    const cv::Point2d middle = hole_mm.centre + shadow.mm / 2;
    const double lit = light_in_the_middle(bench, middle);
    // A narrow shadow is paler than a wide one; darker than this is dark in any case.
    const double half = (1 + std::min(shadow.shade, shadow.face)) / 2 * lit;
    std::vector<cv::Point2d> border;
    for (int i = 0; i < rays; ++i) {
        const double turn = 2 * CV_PI * i / rays;
        const Ray ray{middle, {std::cos(turn), std::sin(turn)}};
        if (const auto end = light_ends(light_along(bench, ray, farthest_mm), lit, half, step_mm)) {
            border.push_back(middle + (step_mm * *end) * ray.outward);
        }
    }
    return border.size() < fewest ? std::vector<cv::Point2d>() : border;
}

}  // namespace stripbook::measure
