#include "fiducial/square.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "fiducial/sample.h"

namespace stripbook::fiducial {

namespace {

using Point = cv::Point2d;

double cross(const Point& o, const Point& a, const Point& b) {
    return (a.x - o.x) * (b.y - o.y) - (a.y - o.y) * (b.x - o.x);
}

double area_of(const std::vector<Point>& outline) {
    double twice = 0;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Point& a = outline[i];
        const Point& b = outline[(i + 1) % outline.size()];
        twice += a.x * b.y - b.x * a.y;
    }
    return twice / 2;
}

// The convex outline of a blob's pixels (their squares, not their centres), clockwise as seen. Monotone chain
// (A. M. Andrew, 1979), over rows, which come sorted.
std::vector<Point> outline_of(const DarkBlob& blob) {
    std::vector<Point> right;
    std::vector<Point> left;
    const auto push = [](std::vector<Point>& chain, const Point& p, double turn) {
        while (chain.size() >= 2 && turn * cross(chain[chain.size() - 2], chain.back(), p) <= 0) {
            chain.pop_back();
        }
        chain.push_back(p);
    };
    for (std::size_t i = 0; i < blob.rows.size(); ++i) {
        const double y = blob.box.y + static_cast<double>(i);
        for (const double edge : {y - 0.5, y + 0.5}) {
            push(right, {blob.rows[i][1] + 0.5, edge}, 1);
            push(left, {blob.rows[i][0] - 0.5, edge}, -1);
        }
    }
    right.insert(right.end(), left.rbegin(), left.rend());
    return right;
}

std::size_t farthest_from(const std::vector<Point>& points, const Point& from) {
    return static_cast<std::size_t>(std::max_element(points.begin(), points.end(),
                                                     [&](const Point& a, const Point& b) {
                                                         return (a - from).dot(a - from) <
                                                                (b - from).dot(b - from);
                                                     }) -
                                    points.begin());
}

struct Line {
    Point on;
    Point along;
};

std::optional<Point> crossing(const Line& a, const Line& b) {
    const double det = a.along.x * b.along.y - a.along.y * b.along.x;
    constexpr double parallel = 0.2;  // sine of the angle between them
    if (std::abs(det) < parallel) {
        return std::nullopt;
    }
    const Point d = b.on - a.on;
    return a.on + a.along * ((d.x * b.along.y - d.y * b.along.x) / det);
}

struct EdgePoint {
    Point at;
    double weight;
};

// Total least squares, then again without what lies far off.
Line line_through(const std::vector<EdgePoint>& points, double keep_px) {
    Line line;
    double limit = 1e9;
    for (int pass = 0; pass < 3; ++pass) {
        double sum = 0;
        Point middle;
        for (const auto& p : points) {
            const Point d = p.at - line.on;
            if (pass > 0 && std::abs(d.x * line.along.y - d.y * line.along.x) > limit) {
                continue;
            }
            sum += p.weight;
            middle += p.at * p.weight;
        }
        if (sum <= 0) {
            return line;
        }
        middle *= 1 / sum;
        double xx = 0;
        double xy = 0;
        double yy = 0;
        for (const auto& p : points) {
            const Point e = p.at - line.on;
            if (pass > 0 && std::abs(e.x * line.along.y - e.y * line.along.x) > limit) {
                continue;
            }
            const Point d = p.at - middle;
            xx += p.weight * d.x * d.x;
            xy += p.weight * d.x * d.y;
            yy += p.weight * d.y * d.y;
        }
        const double angle = 0.5 * std::atan2(2 * xy, xx - yy);
        line = {middle, {std::cos(angle), std::sin(angle)}};
        limit = keep_px;
    }
    return line;
}

// Where on the profile from `inside` to `outside` the grey level rises; weight 0 where it does not.
EdgePoint edge_on(const cv::Mat& grey, const Point& middle, const Point& outward, double reach_px) {
    constexpr double step_px = 0.5;
    constexpr int most_steps = 12;  // to either hand: a wide edge needs no finer ones
    const int steps = std::clamp(static_cast<int>(std::ceil(reach_px / step_px)), 2, most_steps);
    const double step = reach_px / steps;
    double sum = 0;
    double moment = 0;
    double steepest = 0;
    float before = grey_at(grey, middle.x - outward.x * reach_px, middle.y - outward.y * reach_px);
    for (int i = -steps + 1; i <= steps; ++i) {
        const float here = grey_at(grey, middle.x + outward.x * i * step, middle.y + outward.y * i * step);
        const double rise = here - before;
        before = here;
        if (rise > 0) {
            // Between the rise, which noise pulls about, and its square, which pixels pull about: the power
            // that gave the least error on made pictures of 1 to 6 px/mm.
            const double weight = rise * std::sqrt(rise);
            sum += weight;
            moment += weight * (i - 0.5) * step;
            steepest = std::max(steepest, rise);
        }
    }
    constexpr double least_rise = 3;  // grey levels a step: below it there is only noise
    if (steepest < least_rise) {
        return {middle, 0};
    }
    return {middle + outward * (moment / sum), std::min(steepest, 40.0)};
}

std::optional<Line> edge_line(const cv::Mat& grey, const Point& from, const Point& to, double reach_px,
                              int most_profiles) {
    const Point d = to - from;
    const double length = cv::norm(d);
    const Point outward(d.y / length, -d.x / length);  // left of the way round: the figure runs clockwise
    const int count = std::clamp(static_cast<int>(length), 6, most_profiles);
    std::vector<EdgePoint> points;
    constexpr double from_corner = 0.1;  // corners are round and belong to two edges
    for (int i = 0; i < count; ++i) {
        const double along = from_corner + (1 - 2 * from_corner) * (i + 0.5) / count;
        const EdgePoint p = edge_on(grey, from + d * along, outward, reach_px);
        if (p.weight > 0) {
            points.push_back(p);
        }
    }
    if (2 * points.size() < static_cast<std::size_t>(count)) {
        return std::nullopt;
    }
    return line_through(points, std::max(0.35, reach_px / 4));
}

}  // namespace

double mean_side(const Corners& corners) {
    double sum = 0;
    for (std::size_t i = 0; i < 4; ++i) {
        sum += cv::norm(corners[(i + 1) % 4] - corners[i]);
    }
    return sum / 4;
}

std::optional<Corners> corners_of_blob(const DarkBlob& blob) {
    const std::vector<Point> outline = outline_of(blob);
    Point middle;
    for (const auto& p : outline) {
        middle += p;
    }
    middle *= 1.0 / static_cast<double>(outline.size());
    const Point a = outline[farthest_from(outline, middle)];
    const Point c = outline[farthest_from(outline, a)];
    Point b = a;
    Point d = a;
    double most_left = 0;
    double most_right = 0;
    for (const auto& p : outline) {
        const double side = cross(a, c, p);
        if (side < most_left) {
            most_left = side;
            b = p;
        } else if (side > most_right) {
            most_right = side;
            d = p;
        }
    }
    const double whole = std::abs(area_of(outline));
    const Corners corners{a, b, c, d};
    const double four_sided = area_of({corners.begin(), corners.end()});
    constexpr double least_share = 0.72;  // pixels round the corners of the smallest squares so far
    if (four_sided < least_share * whole || std::min(-most_left, most_right) < 0.15 * four_sided) {
        return std::nullopt;
    }
    return corners;
}

std::optional<Corners> onto_edges(const cv::Mat& grey, const Corners& corners, double reach_px,
                                  int most_profiles) {
    std::array<Line, 4> lines;
    for (std::size_t i = 0; i < 4; ++i) {
        const auto line = edge_line(grey, corners[i], corners[(i + 1) % 4], reach_px, most_profiles);
        if (!line) {
            return std::nullopt;
        }
        lines[i] = *line;
    }
    Corners moved;
    const double most_px = 2 * reach_px + 1;
    for (std::size_t i = 0; i < 4; ++i) {
        const auto p = crossing(lines[(i + 3) % 4], lines[i]);
        if (!p || cv::norm(*p - corners[i]) > most_px) {
            return std::nullopt;
        }
        moved[i] = *p;
    }
    if (area_of({moved.begin(), moved.end()}) <= 0) {
        return std::nullopt;
    }
    return moved;
}

}  // namespace stripbook::fiducial
