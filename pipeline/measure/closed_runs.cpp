#include "measure/closed_runs.h"

#include <algorithm>

#include "measure/closed_line.h"

namespace stripbook::measure {

std::vector<Run> runs_around(const std::vector<bool>& marked, std::size_t least_between) {
    const std::size_t n = marked.size();
    std::vector<Run> runs;
    // From behind a gap, so that no run is cut in two.
    std::size_t start = 0;
    for (std::size_t unmarked = 0; start < 2 * n && unmarked < least_between; ++start) {
        unmarked = marked[start % n] ? 0 : unmarked + 1;
    }
    if (start == 2 * n) {
        return {{0, n}};
    }
    for (std::size_t i = start; i < start + n; ++i) {
        if (!marked[i % n]) {
            continue;
        }
        if (!runs.empty() && i - (runs.back().first + runs.back().count) < least_between) {
            runs.back().count = i + 1 - runs.back().first;
        } else {
            runs.push_back({i, 1});
        }
    }
    return runs;
}

double marked_share(const Run& run, const std::vector<bool>& marked) {
    std::size_t count = 0;
    for (std::size_t k = 0; k < run.count; ++k) {
        count += marked[(run.first + k) % marked.size()] ? 1 : 0;
    }
    return static_cast<double>(count) / static_cast<double>(run.count);
}

std::vector<cv::Point2d> going_on(const std::vector<cv::Point2d>& closed, const Run& run, std::size_t tangent,
                                  double longest) {
    constexpr double least_cosine = 0.94;  // 20 degrees
    constexpr double nothing = 1e-6;
    const std::size_t n = closed.size();
    const auto at = [&](std::size_t i) { return closed[i % n]; };
    const auto direction = [](cv::Point2d from, cv::Point2d to) {
        return (to - from) / std::max(1e-9, cv::norm(to - from));
    };
    const std::size_t before = run.first + n - 1;
    const std::size_t after = run.first + run.count;
    const double length = cv::norm(at(after) - at(before));
    const cv::Point2d comes = direction(at(before + n - tangent % n), at(before));
    const cv::Point2d leaves = direction(at(after), at(after + tangent));
    const cv::Point2d across = direction(at(before), at(after));
    if (length < nothing || length > longest ||
        std::min(comes.dot(across), leaves.dot(across)) < least_cosine) {
        return {};
    }
    return cubic_between(at(before), comes, at(after), leaves, run.count);
}

}  // namespace stripbook::measure
