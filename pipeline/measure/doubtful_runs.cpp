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
constexpr double least_cosine = 0.94;  // 20 degrees

class Closed {
  public:
    explicit Closed(const std::vector<cv::Point2d>& points) : points_(points) {}
    [[nodiscard]] cv::Point2d at(std::size_t i) const { return points_[i % points_.size()]; }

    // The direction in which the outline runs at a point, from what lies `steps` before or behind it.
    [[nodiscard]] cv::Point2d direction(std::size_t i, std::ptrdiff_t steps) const {
        const auto n = static_cast<std::ptrdiff_t>(points_.size());
        const auto other = static_cast<std::size_t>((static_cast<std::ptrdiff_t>(i) + steps + n) % n);
        const cv::Point2d off = steps < 0 ? at(i) - at(other) : at(other) - at(i);
        return off / std::max(1e-9, cv::norm(off));
    }

  private:
    const std::vector<cv::Point2d>& points_;
};

double distance_to(const std::vector<cv::Point2d>& line, cv::Point2d p) {
    double least = std::numeric_limits<double>::max();
    for (const auto& q : line) {
        least = std::min(least, cv::norm(q - p));
    }
    return least;
}

// Empty: the outline does not go on as it came, or lies far from where it then would.
std::vector<cv::Point2d> bridge(const Closed& outline, const Run& run, std::ptrdiff_t steps) {
    const std::size_t before = run.first - 1;
    const std::size_t after = run.first + run.count;
    const cv::Point2d a = outline.at(before);
    const cv::Point2d b = outline.at(after);
    const double length = cv::norm(b - a);
    if (length < 1e-6 || length > longest_mm) {
        return {};
    }
    const cv::Point2d comes = outline.direction(before, -steps);
    const cv::Point2d leaves = outline.direction(after, steps);
    const cv::Point2d across = (b - a) / length;
    if (std::min(comes.dot(across), leaves.dot(across)) < least_cosine) {
        return {};
    }
    auto points = cubic_between(a, comes, b, leaves, run.count);
    for (std::size_t k = 0; k < run.count; ++k) {
        if (distance_to(points, outline.at(run.first + k)) > farthest_off_mm) {
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
    const Closed outline(closed_mm);
    double left = 0;
    for (const auto& run : runs_around(doubtful, steps(least_between_mm))) {
        const auto points = run.count < n / 4 ? bridge(outline, {run.first + n, run.count},
                                                       static_cast<std::ptrdiff_t>(steps(tangent_mm)))
                                              : std::vector<cv::Point2d>();
        for (std::size_t k = 0; k < points.size(); ++k) {
            bridged.closed_mm[(run.first + k) % n] = points[k];
        }
        left += points.empty() ? static_cast<double>(run.count) : 0;
    }
    bridged.doubtful_share = left / static_cast<double>(n);
    return bridged;
}

}  // namespace stripbook::measure
