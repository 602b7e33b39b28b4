#include "measure/extent.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <opencv2/imgproc.hpp>

#include "measure/straight_side.h"

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

// A straight side lies where the middle of its outline does: the outermost of many points is further out by
// noise alone, and turns the rectangle. A low bump is a stain's or a shadow's, or it is the part's: halfway
// between is least wrong.
void put_on_straight_sides(const std::vector<cv::Point2d>& closed_mm, Extent& extent) {
    auto sides = sides_of(extent.rectangle_mm);
    double turn = 0;
    double length = 0;
    for (const auto& side : sides) {
        if (const auto run = straight_run(closed_mm, side)) {
            turn += run->slope * run->length_mm;
            length += run->length_mm;
        }
    }
    if (length == 0) {
        return;
    }
    for (std::size_t i = 0; i < sides.size(); ++i) {
        RectangleSide& side = sides[i];
        const cv::Point2d turned = side.out - side.along() * (turn / length);
        side.out = turned / cv::norm(turned);
        side.at_mm = outermost_mm(closed_mm, side.out);
        if (const auto run = straight_run(closed_mm, side)) {
            constexpr double noise_mm = 0.4;
            const double bump = side.at_mm - run->outermost_mm();
            const bool stands_out = bump > noise_mm;
            (i % 2 == 0 ? extent.width_bumps_mm : extent.length_bumps_mm) += stands_out ? bump : 0;
            side.at_mm = run->outermost_mm() + (stands_out ? bump / 2 : 0);
        }
    }
    for (std::size_t i = 0; i < sides.size(); ++i) {
        const RectangleSide& before = sides[(i + 3) % sides.size()];
        extent.rectangle_mm[i] = before.out * before.at_mm + sides[i].out * sides[i].at_mm;
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

// Whether hardly any of the outline lies as far out as its outermost point.
bool ends_in_corner(const std::vector<cv::Point2d>& closed_mm, cv::Point2d out) {
    constexpr double as_far_mm = 0.1;
    constexpr double hardly_any_mm = 2;
    const double least = outermost_mm(closed_mm, out) - as_far_mm;
    double length = 0;
    for (std::size_t i = 0; i < closed_mm.size(); ++i) {
        const cv::Point2d here = closed_mm[i];
        const cv::Point2d next = closed_mm[(i + 1) % closed_mm.size()];
        length += std::min(here.dot(out), next.dot(out)) > least ? cv::norm(next - here) : 0;
    }
    return length < hardly_any_mm;
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

CornerEnds corner_ends(const std::vector<cv::Point2d>& closed_mm, const Extent& extent) {
    CornerEnds ends;
    const auto sides = sides_of(extent.rectangle_mm);
    for (std::size_t i = 0; i < sides.size(); ++i) {
        const bool corner = !straight_run(closed_mm, sides[i]) && ends_in_corner(closed_mm, sides[i].out);
        (i % 2 == 0 ? ends.width : ends.length) += corner ? 1 : 0;
    }
    const auto& [a, b] = extent.largest_ends_mm;
    const cv::Point2d out = (b - a) / std::max(1e-9, cv::norm(b - a));
    ends.largest = (ends_in_corner(closed_mm, out) ? 1 : 0) + (ends_in_corner(closed_mm, -out) ? 1 : 0);
    return ends;
}

}  // namespace stripbook::measure
