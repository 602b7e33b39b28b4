#include "measure/extent.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <opencv2/imgproc.hpp>

namespace stripbook::measure {

namespace {

// OpenCV's hull works in single precision, which is 1e-5 mm here.
std::vector<cv::Point2d> hull_of(const std::vector<cv::Point2d>& points) {
    std::vector<cv::Point2f> single(points.begin(), points.end());
    std::vector<int> order;
    cv::convexHull(single, order);
    std::vector<cv::Point2d> hull;
    for (const int i : order) {
        hull.push_back(points[static_cast<std::size_t>(i)]);
    }
    return hull;
}

void smallest_rectangle(const std::vector<cv::Point2d>& hull, Extent& extent) {
    double least = std::numeric_limits<double>::max();
    for (std::size_t i = 0; i < hull.size(); ++i) {
        const cv::Point2d side = hull[(i + 1) % hull.size()] - hull[i];
        const double size = cv::norm(side);
        if (size < 1e-12) {
            continue;
        }
        const cv::Point2d u = side / size;
        const cv::Point2d v(-u.y, u.x);
        double u_low = std::numeric_limits<double>::max();
        double v_low = u_low;
        double u_high = -u_low;
        double v_high = -u_low;
        for (const auto& p : hull) {
            u_low = std::min(u_low, p.dot(u));
            u_high = std::max(u_high, p.dot(u));
            v_low = std::min(v_low, p.dot(v));
            v_high = std::max(v_high, p.dot(v));
        }
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
    extent.length_mm = cv::norm(extent.rectangle_mm[1] - extent.rectangle_mm[0]);
    extent.width_mm = cv::norm(extent.rectangle_mm[2] - extent.rectangle_mm[1]);
}

void largest_distance(const std::vector<cv::Point2d>& hull, Extent& extent) {
    for (std::size_t i = 0; i < hull.size(); ++i) {
        for (std::size_t j = i + 1; j < hull.size(); ++j) {
            const double distance = cv::norm(hull[j] - hull[i]);
            if (distance > extent.largest_mm) {
                extent.largest_mm = distance;
                extent.largest_ends_mm = {hull[i], hull[j]};
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
    largest_distance(hull, extent);
    return extent;
}

}  // namespace stripbook::measure
