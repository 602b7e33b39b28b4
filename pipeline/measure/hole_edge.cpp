#include "measure/hole_edge.h"

#include <algorithm>
#include <cmath>

#include "measure/edge_profile.h"

namespace stripbook::measure {

namespace {

constexpr int directions = 120;
constexpr double step_px = 0.25;
constexpr double on_circle_px = 1.2;   // an edge this near lies on it
constexpr double strong_slope = 15;    // stronger edges count no more
constexpr double weakest_slope = 2.5;  // grey levels per px
constexpr double all_around = 0.7;     // of the directions
constexpr double share_of_strongest = 0.4;

struct Peak {
    cv::Point2d px;
    int direction = 0;
    double slope = 0;
    double contrast = 0;  // positive: brighter outside the hole
};

std::vector<Peak> peaks_along(const FaceView& view, cv::Point2d centre_px, double from_px, double to_px) {
    std::vector<Peak> peaks;
    const int count = static_cast<int>((to_px - from_px) / step_px) + 1;
    for (int d = 0; d < directions; ++d) {
        const double angle = 2 * CV_PI * d / directions;
        const cv::Point2d out(std::cos(angle), std::sin(angle));
        const Profile profile = profile_along(view.picture, centre_px + out * from_px, out * step_px, count);
        for (int i = 2; i + 2 < count; ++i) {
            const auto k = static_cast<std::size_t>(i);
            const auto slope = static_cast<double>(profile.slope[k]);
            if (slope > weakest_slope && profile.slope[k] >= profile.slope[k - 1] &&
                profile.slope[k] > profile.slope[k + 1]) {
                const double at = peak_near(profile.slope, i);
                peaks.push_back({centre_px + out * (from_px + at * step_px), d, slope,
                                 contrast_across(profile, i, 1 / step_px)});
            }
        }
    }
    return peaks;
}

// The peak nearest the circle in each direction that has one on it.
std::vector<Peak> on_circle(const std::vector<Peak>& peaks, const Circle& circle) {
    std::vector<const Peak*> best(directions, nullptr);
    const auto off = [&](const Peak& p) { return std::abs(cv::norm(p.px - circle.centre) - circle.radius); };
    for (const auto& peak : peaks) {
        auto& place = best[static_cast<std::size_t>(peak.direction)];
        if (off(peak) < on_circle_px && (place == nullptr || off(peak) < off(*place))) {
            place = &peak;
        }
    }
    std::vector<Peak> chosen;
    for (const auto* peak : best) {
        if (peak != nullptr) {
            chosen.push_back(*peak);
        }
    }
    return chosen;
}

std::vector<cv::Point2d> places(const std::vector<Peak>& peaks) {
    std::vector<cv::Point2d> points;
    for (const auto& p : peaks) {
        points.push_back(p.px);
    }
    return points;
}

struct Found {
    Circle circle;
    std::vector<Peak> peaks;
    double score = 0;  // support times strength, the latter bounded
};

std::optional<Found> settle(const std::vector<Peak>& peaks, Circle circle) {
    std::vector<Peak> near;
    for (int round = 0; round < 4; ++round) {
        // Wide at first: the centre is rough.
        const double wide = round < 2 ? 3 * on_circle_px : on_circle_px;
        std::vector<Peak> candidates;
        for (const auto& peak : peaks) {
            if (std::abs(cv::norm(peak.px - circle.centre) - circle.radius) < wide) {
                candidates.push_back(peak);
            }
        }
        const auto fitted = robust_circle(places(candidates), circle, wide / 2);
        if (!fitted) {
            return std::nullopt;
        }
        circle = *fitted;
    }
    Found found{circle, on_circle(peaks, circle), 0};
    for (const auto& peak : found.peaks) {
        found.score += std::min(peak.slope, strong_slope) / strong_slope / directions;
    }
    return found;
}

std::vector<Found> circles_in(const std::vector<Peak>& peaks, cv::Point2d centre_px, double from_px,
                              double to_px) {
    std::vector<Found> circles;
    constexpr double start_step_px = 1;
    for (double radius = from_px; radius <= to_px; radius += start_step_px) {
        const auto found = settle(peaks, {centre_px, radius, 0});
        if (!found || found->circle.radius < from_px || found->circle.radius > to_px ||
            cv::norm(found->circle.centre - centre_px) > 0.3 * found->circle.radius ||
            static_cast<double>(found->peaks.size()) < all_around * directions) {
            continue;
        }
        circles.push_back(*found);
    }
    std::sort(circles.begin(), circles.end(),
              [](const auto& a, const auto& b) { return a.circle.radius < b.circle.radius; });
    return circles;
}

HoleEdge finished(const FaceView& view, const Found& found, const Bloom& bloom) {
    std::vector<cv::Point2d> points;
    double slope = 0;
    for (const auto& peak : found.peaks) {
        const cv::Point2d off = peak.px - found.circle.centre;
        // Bright outside the hole: the edge seen lies inside the true one.
        points.push_back(peak.px + off / cv::norm(off) * (bloom.px_per_contrast * peak.contrast));
        slope += peak.slope / static_cast<double>(found.peaks.size());
    }
    const auto refined = robust_circle(points, found.circle, on_circle_px / 2);
    const Circle circle = refined ? *refined : found.circle;
    return {{view.mm_from_view(circle.centre), circle.radius / view.px_per_mm, circle.rms / view.px_per_mm},
            static_cast<double>(found.peaks.size()) / directions,
            slope};
}

}  // namespace

std::optional<HoleEdge> hole_edge(const FaceView& view, const Circle& rough_mm, const Bloom& bloom) {
    const cv::Point2d centre = view.view_from_mm(rough_mm.centre);
    const double radius = rough_mm.radius * view.px_per_mm;
    constexpr double smallest_px = 5;
    const double from = std::max(smallest_px, 0.6 * radius - 3);
    const double to = 1.35 * radius + 6;
    if (to < from + 4) {
        return std::nullopt;
    }
    const auto peaks = peaks_along(view, centre, from - 3, to + 3);
    const auto circles = circles_in(peaks, centre, from, to);
    double best = 0;
    for (const auto& c : circles) {
        best = std::max(best, c.score);
    }
    for (const auto& c : circles) {
        if (c.score >= share_of_strongest * best) {
            return finished(view, c, bloom);
        }
    }
    return std::nullopt;
}

}  // namespace stripbook::measure
