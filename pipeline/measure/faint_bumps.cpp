#include "measure/faint_bumps.h"

#include <algorithm>
#include <tuple>
#include <utility>
#include <vector>

#include "measure/closed_runs.h"
#include "measure/edge_strength.h"
#include "measure/faint_edge.h"

namespace stripbook::measure {

namespace {

constexpr std::size_t side = 20;   // points on each side that tell how the side runs
constexpr std::size_t fewest = 5;  // points of a stretch

cv::Point2d direction(cv::Point2d from, cv::Point2d to) {
    return (to - from) / std::max(1e-9, cv::norm(to - from));
}

double mean_share(const std::vector<EdgePoint>& points, std::size_t first, std::size_t count) {
    double sum = 0;
    for (std::size_t k = 0; k < count; ++k) {
        sum += points[(first + k) % points.size()].contrast_share;
    }
    return sum / static_cast<double>(count);
}

// Stretches of doubtful points much fainter than what lies before and behind, each to where the edge is about
// as clear as there: the shares are means over neighbours, and the ends of a stretch are not clear either.
std::vector<Run> doubtful_stretches(const std::vector<EdgePoint>& points) {
    constexpr std::size_t a_gap = 4;
    constexpr double much_fainter = 0.5;
    constexpr double about_as_clear = 0.75;
    const std::size_t n = points.size();
    std::vector<bool> doubtful;
    doubtful.reserve(n);
    for (const auto& point : points) {
        doubtful.push_back(point.doubtful);
    }
    std::vector<Run> stretches;
    for (Run run : runs_around(doubtful, a_gap)) {
        if (run.count < fewest || run.count + 6 * side > n) {
            continue;
        }
        const double clear = std::min(mean_share(points, run.first + n - 2 * side, side),
                                      mean_share(points, run.first + run.count + side, side));
        if (mean_share(points, run.first, run.count) > much_fainter * clear) {
            continue;
        }
        const auto faint = [&](std::size_t i) {
            return points[i % n].contrast_share < about_as_clear * clear;
        };
        for (std::size_t k = 0; k < side && faint(run.first + n - 1); ++k, ++run.count) {
            run.first = (run.first + n - 1) % n;
        }
        for (std::size_t k = 0; k < side && faint(run.first + run.count); ++k) {
            ++run.count;
        }
        stretches.push_back(run);
    }
    return stretches;
}

}  // namespace

void put_faint_bumps_back(const cv::Mat3b& picture, OutlineEdge& edge) {
    constexpr double nearly = 0.6;
    constexpr double longest_px = 150;
    auto& points = edge.points;
    const std::size_t n = points.size();
    const std::vector<EdgePoint> traced = points;
    const auto px = places_of(traced);
    auto stretches = runs_around(faint_stretches(edge), 1);
    const auto doubtful = doubtful_stretches(traced);
    stretches.insert(stretches.end(), doubtful.begin(), doubtful.end());
    for (const auto& stretch : stretches) {
        const auto places = stretch.count < fewest || stretch.count + 2 * side + 2 > n
                                ? std::vector<cv::Point2d>()
                                : going_on(px, stretch, side, longest_px);
        if (places.empty()) {
            continue;
        }
        const auto& before = traced[(stretch.first + n - 1) % n];
        const auto& clear = traced[(stretch.first + n - 1 - side / 2) % n];  // of the stretch's own contrast
        const auto last = static_cast<int>(places.size()) - 1;
        const auto on_side = [&](int k) {
            const auto i = static_cast<std::size_t>(std::clamp(k, 0, last));
            const cv::Point2d way = direction(i == 0 ? before.px : places[i - 1], places[i]);
            const cv::Point2d across(way.y, -way.x);
            return std::pair(places[i], across.dot(before.outward) > 0 ? across : -across);
        };
        const auto on_traced = [&](int k) {
            const auto& point =
                traced[(stretch.first + static_cast<std::size_t>(k + static_cast<int>(n))) % n];
            return std::pair(point.px, point.outward);
        };
        constexpr int some = static_cast<int>(side);
        const int behind = last + 1;
        const double beside = std::min(strength_along(picture, -some, -1, on_traced),
                                       strength_along(picture, behind, behind + some - 1, on_traced));
        if (strength_along(picture, 0, last, on_side) < nearly * beside) {
            continue;
        }
        for (int k = 0; k <= last; ++k) {
            auto& point = points[(stretch.first + static_cast<std::size_t>(k)) % n];
            point = clear;
            std::tie(point.px, point.outward) = on_side(k);
        }
    }
}

}  // namespace stripbook::measure
