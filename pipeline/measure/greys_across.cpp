#include "measure/greys_across.h"

#include <algorithm>

#include "measure/closed_line.h"
#include "measure/edge_profile.h"

namespace stripbook::measure {

std::vector<EdgePoint> steadied(const std::vector<EdgePoint>& points, int half) {
    std::vector<cv::Point2d> outward;
    outward.reserve(points.size());
    for (const auto& point : points) {
        outward.push_back(point.outward);
    }
    outward = rounded_off(outward, half / 2);
    // What the mean cuts off a bend, the mean of the means cuts off again.
    const auto once = rounded_off(places_of(points), half);
    const auto twice = rounded_off(once, half);
    std::vector<EdgePoint> steady = points;
    for (std::size_t i = 0; i < points.size(); ++i) {
        steady[i].px = once[i] + (once[i] - twice[i]);
        steady[i].outward = outward[i] / std::max(1e-9, cv::norm(outward[i]));
    }
    return steady;
}

std::vector<std::vector<double>> greys_across(const cv::Mat3b& picture, const std::vector<EdgePoint>& steady,
                                              const SamplesAcross& samples, int half) {
    const std::size_t n = steady.size();
    const auto samples_each = static_cast<std::size_t>(samples.count);
    std::vector<std::vector<double>> sums(n + 1, std::vector<double>(samples_each, 0));
    for (std::size_t i = 0; i < n; ++i) {
        for (std::size_t k = 0; k < samples_each; ++k) {
            const double off_px = samples.from_px + static_cast<double>(k) * samples.step_px;
            const cv::Vec3f colour = colour_at(picture, steady[i].px + steady[i].outward * off_px);
            sums[i + 1][k] = sums[i][k] + static_cast<double>(colour[0] + colour[1] + colour[2]) / 3;
        }
    }
    const auto reach = static_cast<std::size_t>(half);
    const std::size_t count = 2 * reach + 1;
    std::vector<std::vector<double>> means(n, std::vector<double>(samples_each, 0));
    for (std::size_t i = 0; i < n; ++i) {
        const std::size_t from = (i + n - reach) % n;
        const std::size_t to = from + count;
        for (std::size_t k = 0; k < samples_each; ++k) {
            const double wrapped = to > n ? sums[n][k] + sums[to - n][k] : sums[to][k];
            means[i][k] = (wrapped - sums[from][k]) / static_cast<double>(count);
        }
    }
    return means;
}

GreyLine::Stretch GreyLine::between(double from_px, double to_px) const {
    const auto from = greys_.begin() + sample(from_px);
    const auto to = greys_.begin() + sample(to_px) + 1;
    double sum = 0;
    for (auto grey = from; grey != to; ++grey) {
        sum += *grey;
    }
    const auto [least, most] = std::minmax_element(from, to);
    return {sum / static_cast<double>(to - from), *least, *most};
}

}  // namespace stripbook::measure
