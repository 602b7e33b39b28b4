#include "measure/extent.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <opencv2/imgproc.hpp>

namespace stripbook::measure {

namespace {

// Counterclockwise with y upwards. OpenCV's hull works in single precision, which is 1e-5 mm here.
std::vector<cv::Point2d> hull_of(const std::vector<cv::Point2d>& points) {
    std::vector<cv::Point2f> single(points.begin(), points.end());
    std::vector<int> order;
    cv::convexHull(single, order);
    std::vector<cv::Point2d> hull;
    hull.reserve(order.size());
    for (const int i : order) {
        hull.push_back(points[static_cast<std::size_t>(i)]);
    }
    return hull;
}

// The corner of a convex hull that lies furthest along a direction, followed on as the direction turns with
// the hull (rotating calipers: Toussaint, 1983).
class Caliper {
  public:
    explicit Caliper(const std::vector<cv::Point2d>& hull) : hull_(hull) {}

    double furthest(cv::Point2d along) {
        if (!placed_) {
            const auto less = [&](const auto& a, const auto& b) { return a.dot(along) < b.dot(along); };
            at_ =
                static_cast<std::size_t>(std::max_element(hull_.begin(), hull_.end(), less) - hull_.begin());
            placed_ = true;
        }
        for (std::size_t steps = 0; steps < hull_.size() && next().dot(along) > corner().dot(along);
             ++steps) {
            at_ = (at_ + 1) % hull_.size();
        }
        return corner().dot(along);
    }
    [[nodiscard]] cv::Point2d corner() const { return hull_[at_]; }
    [[nodiscard]] cv::Point2d next() const { return hull_[(at_ + 1) % hull_.size()]; }

  private:
    const std::vector<cv::Point2d>& hull_;
    std::size_t at_ = 0;
    bool placed_ = false;
};

void smallest_rectangle(const std::vector<cv::Point2d>& hull, Extent& extent) {
    double least = std::numeric_limits<double>::max();
    Caliper ahead(hull);
    Caliper across(hull);
    Caliper behind(hull);
    for (std::size_t i = 0; i < hull.size(); ++i) {
        const cv::Point2d side = hull[(i + 1) % hull.size()] - hull[i];
        const double size = cv::norm(side);
        if (size < 1e-12) {
            continue;
        }
        const cv::Point2d u = side / size;
        const cv::Point2d v(-u.y, u.x);
        const double v_low = hull[i].dot(v);
        const double u_high = ahead.furthest(u);
        const double v_high = across.furthest(v);
        const double u_low = -behind.furthest(-u);
        const double area = (u_high - u_low) * (v_high - v_low);
        if (area < least) {
            least = area;
            std::array<cv::Point2d, 4> corners{u * u_low + v * v_low, u * u_high + v * v_low,
                                               u * u_high + v * v_high, u * u_low + v * v_high};
            if (u_high - u_low < v_high - v_low) {
                std::rotate(corners.begin(), corners.begin() + 1, corners.end());
            }
            extent.rectangle_mm = corners;
        }
    }
}

// One side of the rectangle: the outline lies on the inner side of {p: p.out = at}.
struct Side {
    cv::Point2d out;
    double at = 0;
    double size = 0;
    [[nodiscard]] cv::Point2d along() const { return {-out.y, out.x}; }
};

std::array<Side, 4> sides_of(const std::array<cv::Point2d, 4>& corners) {
    const cv::Point2d middle = (corners[0] + corners[2]) / 2;
    std::array<Side, 4> sides;
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

// Where the outline runs near a side.
struct Flank {
    std::vector<std::pair<double, double>> at;  // p.out, and the outline's length there
    double length = 0;
    double slope = 0;  // of p.out along the side
};

Flank flank_of(const std::vector<cv::Point2d>& closed_mm, const Side& side) {
    constexpr double near_mm = 0.8;
    Flank flank;
    const std::size_t n = closed_mm.size();
    cv::Matx22d normal = cv::Matx22d::zeros();
    cv::Vec2d right(0, 0);
    for (std::size_t i = 0; i < n; ++i) {
        const cv::Point2d& p = closed_mm[i];
        const double at = p.dot(side.out);
        if (side.at - at > near_mm) {
            continue;
        }
        const double length =
            (cv::norm(closed_mm[(i + 1) % n] - p) + cv::norm(closed_mm[(i + n - 1) % n] - p)) / 2;
        flank.at.emplace_back(at, length);
        flank.length += length;
        const cv::Vec2d row(1, p.dot(side.along()));
        normal += length * row * row.t();
        right += length * at * row;
    }
    if (flank.at.size() > 2 && cv::determinant(normal) > 0) {
        flank.slope = (normal.inv() * right)[1];
    }
    return flank;
}

bool straight(const Flank& flank, const Side& side) {
    constexpr double most_of_it = 0.6;
    return flank.length > most_of_it * side.size;
}

double middle_of(Flank flank) {
    std::sort(flank.at.begin(), flank.at.end());
    double before = 0;
    for (const auto& [at, length] : flank.at) {
        before += length;
        if (before >= flank.length / 2) {
            return at;
        }
    }
    return flank.at.back().first;
}

// A straight side lies where the middle of its outline does: the outermost of many points is further out by
// noise alone, and turns the rectangle.
void put_on_straight_sides(const std::vector<cv::Point2d>& closed_mm, Extent& extent) {
    auto sides = sides_of(extent.rectangle_mm);
    double turn = 0;
    double length = 0;
    for (const auto& side : sides) {
        const Flank flank = flank_of(closed_mm, side);
        if (straight(flank, side)) {
            turn += flank.slope * flank.length;
            length += flank.length;
        }
    }
    if (length == 0) {
        return;
    }
    for (auto& side : sides) {
        const cv::Point2d turned = side.out - side.along() * (turn / length);
        side.out = turned / cv::norm(turned);
        side.at = -std::numeric_limits<double>::max();
        for (const auto& p : closed_mm) {
            side.at = std::max(side.at, p.dot(side.out));
        }
        const Flank flank = flank_of(closed_mm, side);
        side.at = straight(flank, side) ? middle_of(flank) : side.at;
    }
    for (std::size_t i = 0; i < sides.size(); ++i) {
        const Side& before = sides[(i + 3) % sides.size()];
        extent.rectangle_mm[i] = before.out * before.at + sides[i].out * sides[i].at;
    }
}

// The furthest two corners lie on two parallel lines that touch the hull on either side of it.
void largest_distance(const std::vector<cv::Point2d>& hull, Extent& extent) {
    Caliper opposite(hull);
    for (std::size_t i = 0; i < hull.size(); ++i) {
        const cv::Point2d here = hull[i];
        const cv::Point2d after = hull[(i + 1) % hull.size()];
        const cv::Point2d side = after - here;
        opposite.furthest({-side.y, side.x});
        for (const cv::Point2d a : {here, after}) {
            // Where a side lies opposite, both its ends.
            for (const cv::Point2d b : {opposite.corner(), opposite.next()}) {
                const double distance = cv::norm(b - a);
                if (distance > extent.largest_mm) {
                    extent.largest_mm = distance;
                    extent.largest_ends_mm = {a, b};
                }
            }
        }
    }
}

}  // namespace

Extent extent_of(const std::vector<cv::Point2d>& closed_mm) {
    Extent extent;
    for (std::size_t i = 0; i < closed_mm.size(); ++i) {
        extent.area_mm2 += closed_mm[i].cross(closed_mm[(i + 1) % closed_mm.size()]) / 2;
    }
    extent.area_mm2 = std::abs(extent.area_mm2);
    const auto hull = hull_of(closed_mm);
    smallest_rectangle(hull, extent);
    put_on_straight_sides(closed_mm, extent);
    extent.length_mm = cv::norm(extent.rectangle_mm[1] - extent.rectangle_mm[0]);
    extent.width_mm = cv::norm(extent.rectangle_mm[2] - extent.rectangle_mm[1]);
    largest_distance(hull, extent);
    return extent;
}

}  // namespace stripbook::measure
