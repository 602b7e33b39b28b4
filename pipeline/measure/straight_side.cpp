#include "measure/straight_side.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <opencv2/imgproc.hpp>

#include "measure/closed_line.h"
#include "measure/quantile.h"

namespace stripbook::measure {

namespace {

constexpr double on_line_mm = 0.3;
constexpr double most_of_it = 0.6;
constexpr double steepest = 0.04;  // of a taper, over the side
constexpr std::size_t fewest = 8;

// In the side's frame: x along it, y outwards.
std::vector<cv::Point2f> near_side(const std::vector<cv::Point2d>& closed_mm, const RectangleSide& side,
                                   double near_mm) {
    std::vector<cv::Point2f> near;
    for (const auto& p : closed_mm) {
        if (side.at_mm - p.dot(side.out) < near_mm) {
            near.emplace_back(cv::Point2d(p.dot(side.along()), p.dot(side.out) - side.at_mm));
        }
    }
    return near;
}

}  // namespace

std::array<RectangleSide, 4> sides_of(const std::array<cv::Point2d, 4>& corners) {
    const cv::Point2d middle = (corners[0] + corners[2]) / 2;
    std::array<RectangleSide, 4> sides;
    for (std::size_t i = 0; i < sides.size(); ++i) {
        const cv::Point2d a = corners[i];
        const cv::Point2d side = corners[(i + 1) % sides.size()] - a;
        const double size = cv::norm(side);
        cv::Point2d out(side.y / size, -side.x / size);
        out = (a - middle).dot(out) < 0 ? -out : out;
        sides[i] = {out, a.dot(out), size};
    }
    return sides;
}

double outermost_mm(const std::vector<cv::Point2d>& closed_mm, cv::Point2d out) {
    double most = -std::numeric_limits<double>::max();
    for (const auto& p : closed_mm) {
        most = std::max(most, p.dot(out));
    }
    return most;
}

std::optional<StraightRun> straight_run(const std::vector<cv::Point2d>& closed_mm, const RectangleSide& side,
                                        double near_mm) {
    const auto near = near_side(closed_mm, side, near_mm);
    if (near.size() < fewest) {
        return std::nullopt;
    }
    cv::Vec4f line;                      // direction, a point on it
    constexpr std::size_t enough = 150;  // to tell a line; all of them take long
    cv::fitLine(thinned(near, enough), line, cv::DIST_WELSCH, 0, 1e-3, 1e-4);
    if (std::abs(line[1]) > steepest * std::abs(line[0])) {
        return std::nullopt;
    }
    StraightRun run;
    run.slope = static_cast<double>(line[1] / line[0]);
    const auto off_line = [&](const cv::Point2f& p) {
        return static_cast<double>(p.y - line[3]) - run.slope * static_cast<double>(p.x - line[2]);
    };
    std::vector<double> off;
    double low = std::numeric_limits<double>::max();
    double high = std::numeric_limits<double>::lowest();
    for (const auto& p : near) {
        if (std::abs(off_line(p)) < on_line_mm) {
            off.push_back(off_line(p));
            low = std::min(low, static_cast<double>(p.x));
            high = std::max(high, static_cast<double>(p.x));
        }
    }
    run.length_mm =
        wrapped_length(closed_mm) * static_cast<double>(off.size()) / static_cast<double>(closed_mm.size());
    if (off.empty() || run.length_mm < most_of_it * side.size_mm) {
        return std::nullopt;
    }
    run.reach_mm = high - low;
    run.middle_mm = side.at_mm + static_cast<double>(line[3]) +
                    run.slope * ((low + high) / 2 - static_cast<double>(line[2])) + middle_value(off);
    return run;
}

}  // namespace stripbook::measure
