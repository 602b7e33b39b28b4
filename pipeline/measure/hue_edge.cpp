#include "measure/hue_edge.h"

#include <algorithm>
#include <cmath>

#include "measure/edge_profile.h"
#include "measure/log_colour.h"

namespace stripbook::measure {

namespace {

cv::Vec3d mean_of(const std::vector<cv::Vec3d>& values, int from, int to) {
    cv::Vec3d sum;
    for (int i = from; i <= to; ++i) {
        sum += values[static_cast<std::size_t>(i)];
    }
    return sum / (to - from + 1);
}

cv::Vec3f mean_of(const std::vector<cv::Vec3f>& values, int from, int to) {
    cv::Vec3f sum;
    for (int i = from; i <= to; ++i) {
        sum += values[static_cast<std::size_t>(i)];
    }
    return sum / (to - from + 1);
}

// How much of the unit colour `part` is in `light` when the rest is of the unit colour `ground` (least
// squares).
double part_share(const cv::Vec3d& light, const cv::Vec3d& part, const cv::Vec3d& ground) {
    const double both = part.dot(ground);
    return (light.dot(part) - both * light.dot(ground)) / (1 - both * both);
}

// Brightness as blurred as JPEG files keep hue: at half the size, and interpolated (ISO/IEC 10918-1, 4:2:0).
// Grey levels of BGR.
std::vector<cv::Vec3f> evenly_blurred(const std::vector<cv::Vec3f>& colour, double px_per_sample) {
    constexpr double sigma_px = 0.9;
    const int half = static_cast<int>(std::ceil(3 * sigma_px / px_per_sample));
    const int last = static_cast<int>(colour.size()) - 1;
    const auto brightness = [](const cv::Vec3f& c) { return 0.114F * c[0] + 0.587F * c[1] + 0.299F * c[2]; };
    std::vector<cv::Vec3f> result;
    for (int i = 0; i <= last; ++i) {
        double sum = 0;
        double weights = 0;
        for (int k = -half; k <= half; ++k) {
            const double off = k * px_per_sample / sigma_px;
            const double weight = std::exp(-off * off / 2);
            sum += weight * static_cast<double>(
                                brightness(colour[static_cast<std::size_t>(std::clamp(i + k, 0, last))]));
            weights += weight;
        }
        const cv::Vec3f& here = colour[static_cast<std::size_t>(i)];
        result.push_back(here + cv::Vec3f::all(static_cast<float>(sum / weights) - brightness(here)));
    }
    return result;
}

// As end_of_part_light; the part's colour is taken from `deep_px` further in than just clear of the edge.
std::optional<double> end_of_light_from(const std::vector<cv::Vec3f>& colour, double px_per_sample,
                                        const HueOdds& hues, double deep_px) {
    constexpr double near_px = 3;  // clear of the edge's blur and of colour stored at half the size
    constexpr double far_px = 6;
    constexpr float surely = 1;  // odds, natural logarithm
    constexpr double most_off_px = 4;
    const int middle = static_cast<int>(colour.size()) / 2;
    const int near = static_cast<int>(std::lround(near_px / px_per_sample));
    const int far = static_cast<int>(std::lround(far_px / px_per_sample));
    const int deep = static_cast<int>(std::lround(deep_px / px_per_sample));
    const int from = middle - far - deep;
    const int to = middle - near - deep;
    if (from < 0 || middle + far >= static_cast<int>(colour.size())) {
        return std::nullopt;
    }
    if (hues.of(log_colour(mean_of(colour, from, to))) < surely ||
        hues.of(log_colour(mean_of(colour, middle + near, middle + far))) > -surely) {
        return std::nullopt;
    }
    std::vector<cv::Vec3d> light;
    light.reserve(colour.size());
    for (const auto& levels : evenly_blurred(colour, px_per_sample)) {
        light.push_back(linear_colour(levels));
    }
    const cv::Vec3d part = cv::normalize(mean_of(light, from, to));
    const cv::Vec3d ground = cv::normalize(mean_of(light, middle + near, middle + far));
    // Of the angle between the two colours. Where hues hardly differ, noise would place the edge.
    constexpr double plainly = 0.06;
    constexpr double hardly = 0.26;
    if (cv::norm(part.cross(ground)) < hardly + (plainly - hardly) * hues.plain()) {
        return std::nullopt;
    }
    const double half = part_share(mean_of(light, from, to), part, ground) / 2;
    std::optional<double> best;
    double before = part_share(light[0], part, ground);
    for (int i = 1; i < static_cast<int>(light.size()); ++i) {
        const double here = part_share(light[static_cast<std::size_t>(i)], part, ground);
        if (before >= half && here < half) {
            const double at = i - 1 + (before - half) / (before - here);
            if (std::abs(at - middle) * px_per_sample < most_off_px + deep_px &&
                (!best || std::abs(at - middle) < std::abs(*best - middle))) {
                best = at;
            }
        }
        before = here;
    }
    return best;
}

}  // namespace

std::optional<double> end_of_part_light(const std::vector<cv::Vec3f>& colour, double px_per_sample,
                                        const HueOdds& hues) {
    constexpr double wide_shadow_px = 2;
    const auto at = end_of_light_from(colour, px_per_sample, hues, 0);
    return at ? at : end_of_light_from(colour, px_per_sample, hues, wide_shadow_px);
}

}  // namespace stripbook::measure
