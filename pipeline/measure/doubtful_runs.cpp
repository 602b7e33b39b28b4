#include "measure/doubtful_runs.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "measure/closed_line.h"
#include "measure/closed_runs.h"

namespace stripbook::measure {

namespace {

constexpr double least_between_mm = 1.5;  // runs closer together are one
constexpr double longest_mm = 12;
constexpr double farthest_off_mm = 1.2;
constexpr double tangent_mm = 3;

double distance_to(const std::vector<cv::Point2d>& line, cv::Point2d p) {
    double least = std::numeric_limits<double>::max();
    for (const auto& q : line) {
        least = std::min(least, cv::norm(q - p));
    }
    return least;
}

// Empty: the outline does not go on as it came, or lies far from where it then would.
std::vector<cv::Point2d> bridge(const std::vector<cv::Point2d>& outline, const Run& run,
                                std::size_t tangent) {
    auto points = going_on(outline, run, tangent, longest_mm);
    for (std::size_t k = 0; k < points.size(); ++k) {
        if (distance_to(points, outline[(run.first + k) % outline.size()]) > farthest_off_mm) {
            return {};
        }
    }
    return points;
}

}  // namespace

BridgedOutline without_doubtful_runs(const std::vector<cv::Point2d>& closed_mm,
                                     const std::vector<bool>& doubtful) {
    BridgedOutline bridged{closed_mm, 0};
    const std::size_t n = closed_mm.size();
    constexpr std::size_t fewest = 32;
    if (n < fewest) {
        return bridged;
    }
    const double length = wrapped_length(closed_mm);
    const auto steps = [&](double mm) {
        return static_cast<std::size_t>(std::max(1.0, std::round(mm * static_cast<double>(n) / length)));
    };
    double left = 0;
    for (const auto& run : runs_around(doubtful, steps(least_between_mm))) {
        const auto points =
            run.count < n / 4 ? bridge(closed_mm, run, steps(tangent_mm)) : std::vector<cv::Point2d>();
        for (std::size_t k = 0; k < points.size(); ++k) {
            bridged.closed_mm[(run.first + k) % n] = points[k];
        }
        left += points.empty() ? static_cast<double>(run.count) : 0;
    }
    bridged.doubtful_share = left / static_cast<double>(n);
    return bridged;
}

}  // namespace stripbook::measure
