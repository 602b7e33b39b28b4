#include "measure/bolt_circle.h"

#include <algorithm>
#include <cmath>

namespace stripbook::measure {

namespace {

constexpr std::size_t fewest = 3;
constexpr double alike = 0.1;  // of the diameter

std::vector<cv::Point2d> centres(const std::vector<HolePlace>& holes, const std::vector<std::size_t>& which) {
    std::vector<cv::Point2d> points;
    for (const auto i : which) {
        points.push_back(holes[i].centre_mm);
    }
    return points;
}

double turn_of(cv::Point2d from_centre) {
    return std::atan2(from_centre.y, from_centre.x);
}

bool evenly_on(const Circle& circle, const std::vector<cv::Point2d>& points, double tolerance_mm) {
    const auto n = static_cast<double>(points.size());
    const double first = turn_of(points.front() - circle.centre);
    for (std::size_t i = 0; i < points.size(); ++i) {
        const double turn = first + 2 * CV_PI * static_cast<double>(i) / n;
        const cv::Point2d place = circle.centre + circle.radius * cv::Point2d(std::cos(turn), std::sin(turn));
        if (cv::norm(points[i] - place) > 2 * tolerance_mm) {
            return false;
        }
    }
    return true;
}

std::optional<BoltCircle> circle_of(const std::vector<HolePlace>& holes, std::vector<std::size_t> which,
                                    double tolerance_mm) {
    const auto circle = geometric_circle(centres(holes, which));
    if (!circle || circle->rms > tolerance_mm) {
        return std::nullopt;
    }
    std::sort(which.begin(), which.end(), [&](auto a, auto b) {
        return turn_of(holes[a].centre_mm - circle->centre) < turn_of(holes[b].centre_mm - circle->centre);
    });
    if (!evenly_on(*circle, centres(holes, which), tolerance_mm)) {
        return std::nullopt;
    }
    return BoltCircle{*circle, which, std::nullopt};
}

std::vector<std::size_t> alike_to(const std::vector<HolePlace>& holes, std::size_t which) {
    std::vector<std::size_t> group;
    for (std::size_t i = 0; i < holes.size(); ++i) {
        if (std::abs(holes[i].diameter_mm - holes[which].diameter_mm) < alike * holes[which].diameter_mm) {
            group.push_back(i);
        }
    }
    return group;
}

}  // namespace

std::optional<BoltCircle> find_bolt_circle(const std::vector<HolePlace>& holes, double tolerance_mm) {
    std::optional<BoltCircle> best;
    const auto take = [&](std::optional<BoltCircle> found) {
        if (found && (!best || found->holes.size() > best->holes.size())) {
            best = std::move(found);
        }
    };
    for (std::size_t i = 0; i < holes.size(); ++i) {
        const auto group = alike_to(holes, i);
        if (group.size() >= fewest) {
            take(circle_of(holes, group, tolerance_mm));
        }
        // One that does not belong, when enough others do.
        for (std::size_t leave = 0; leave < group.size() && group.size() > fewest; ++leave) {
            auto rest = group;
            rest.erase(rest.begin() + static_cast<std::ptrdiff_t>(leave));
            auto found = circle_of(holes, rest, tolerance_mm);
            if (found) {
                found->odd_one_out = group[leave];
                take(std::move(found));
            }
        }
    }
    return best;
}

}  // namespace stripbook::measure
