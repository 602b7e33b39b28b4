#include "measure/face_outline.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <opencv2/imgproc.hpp>

#include "measure/closed_line.h"
#include "measure/parabola.h"

namespace stripbook::measure {

namespace {

double mean_step(const std::vector<cv::Point2d>& closed) {
    return wrapped_length(closed) / static_cast<double>(closed.size());
}

// One point from the best of three windows: both sides, the points before, the points after.
cv::Point2d cleaned(const std::vector<cv::Point2d>& closed, int i, int reach) {
    const int n = static_cast<int>(closed.size());
    const auto at = [&](int k) { return closed[static_cast<std::size_t>(((k % n) + n) % n)]; };
    const cv::Point2d here = at(i);
    cv::Point2d best = here;
    double least = std::numeric_limits<double>::max();
    // A one-sided window tells its end point three times worse: it must fit clearly better to be taken.
    constexpr double one_sided_price = 1.8;
    struct Window {
        int from, to;
        double price;
    };
    for (const Window w :
         {Window{-reach, reach, 1}, {-2 * reach, 0, one_sided_price}, {0, 2 * reach, one_sided_price}}) {
        const cv::Point2d along = at(i + w.to) - at(i + w.from);
        const double length = cv::norm(along);
        if (length < 1e-9) {
            continue;
        }
        const cv::Point2d t = along / length;
        const cv::Point2d normal(-t.y, t.x);
        std::vector<cv::Point2d> local;
        for (int k = w.from; k <= w.to; ++k) {
            const cv::Point2d off = at(i + k) - here;
            local.emplace_back(off.dot(t), off.dot(normal));
        }
        const auto fit = parabola_through(local);
        if (fit && fit->variance * w.price < least) {
            least = fit->variance * w.price;
            best = here + normal * fit->c[0];
        }
    }
    return best;
}

// The same outline where only a distance from it is asked for, which takes as long as it has corners.
std::vector<cv::Point2f> few_corners(const std::vector<cv::Point2f>& closed_mm) {
    constexpr double off_mm = 0.01;
    std::vector<cv::Point2f> corners;
    cv::approxPolyDP(closed_mm, corners, off_mm, true);
    return corners;
}

}  // namespace

std::vector<PlanPoint> within_both_readings(const std::vector<cv::Point2d>& at_face_mm,
                                            const scale::Plane& plane, const Heights& heights) {
    const scale::Standpoint stand = scale::standpoint(plane);
    const double away = (stand.height_mm - heights.bench) / (stand.height_mm - heights.face);
    std::vector<cv::Point2f> rim;
    std::vector<cv::Point2f> foot;
    for (const auto& p : at_face_mm) {
        rim.emplace_back(p);
        foot.emplace_back(stand.foot_mm + (p - stand.foot_mm) * away);
    }
    // Sides that run towards the camera lie on the border of both readings.
    constexpr double noise_mm = 0.05;
    const auto rim_border = few_corners(rim);
    const auto foot_border = few_corners(foot);
    std::vector<PlanPoint> points;
    for (std::size_t i = 0; i < rim.size(); ++i) {
        const double rim_inside = cv::pointPolygonTest(foot_border, rim[i], true);
        const double foot_inside = cv::pointPolygonTest(rim_border, foot[i], true);
        if (std::max(rim_inside, foot_inside) > -noise_mm) {
            const bool on_face = rim_inside >= foot_inside;
            points.push_back({on_face ? at_face_mm[i] : cv::Point2d(foot[i]), on_face});
        }
    }
    return points;
}

std::vector<cv::Point2d> outline_mm(const std::vector<OutlinePoint>& points, const scale::Plane& plane,
                                    const Heights& heights) {
    std::vector<cv::Point2d> outline;
    outline.reserve(points.size());
    for (const auto& p : points) {
        if (const auto mm = scale::plane_from_pixel(plane, p.px, p.on_face ? heights.face : heights.bench)) {
            outline.push_back(*mm);
        }
    }
    return outline;
}

std::vector<cv::Point2d> without_noise(const std::vector<cv::Point2d>& closed_mm, double window_mm) {
    const int n = static_cast<int>(closed_mm.size());
    constexpr int fewest = 32;
    if (n < fewest) {
        return closed_mm;
    }
    const int reach =
        std::clamp(static_cast<int>(std::lround(window_mm / 2 / mean_step(closed_mm))), 4, n / 8);
    std::vector<cv::Point2d> result;
    result.reserve(closed_mm.size());
    for (int i = 0; i < n; ++i) {
        result.push_back(cleaned(closed_mm, i, reach));
    }
    return result;
}

}  // namespace stripbook::measure
