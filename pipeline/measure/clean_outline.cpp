#include "measure/clean_outline.h"

#include <algorithm>
#include <cmath>

#include "measure/doubtful_runs.h"
#include "measure/faint_edge.h"
#include "measure/round_outline.h"
#include "measure/thin_bits.h"

namespace stripbook::measure {

namespace {

constexpr double outline_window_mm = 4;

std::vector<cv::Point2d> places_of(const std::vector<PlanPoint>& plan) {
    std::vector<cv::Point2d> mm;
    mm.reserve(plan.size());
    for (const auto& point : plan) {
        mm.push_back(point.mm);
    }
    return mm;
}

// Stains and the borders of shadows make spikes on an outline, and one spike would make the length. Spikes
// are left out where the outline goes on straight beneath them; what stands at a corner is told only.
std::vector<PlanPoint> without_spikes(const std::vector<PlanPoint>& plan, CleanOutline& outline) {
    const auto bits = thin_bits(places_of(plan));
    std::vector<bool> spike(plan.size(), false);
    for (const auto& bit : bits) {
        if (!bit.on_straight) {
            outline.thin_corner_mm = std::max(outline.thin_corner_mm, bit.stands_out_mm);
            continue;
        }
        if (bit.stands_out_mm > right_angle_mm) {  // less is hardly seen
            outline.spike_mm = std::max(outline.spike_mm, bit.stands_out_mm);
        }
        for (std::size_t k = 0; k < bit.count; ++k) {
            spike[(bit.first + k) % plan.size()] = true;
        }
    }
    std::vector<PlanPoint> kept;
    for (std::size_t i = 0; i < plan.size(); ++i) {
        if (!spike[i]) {
            kept.push_back(plan[i]);
        }
    }
    return kept;
}

// Points of a wall's foot lie on the circle at the bench's height, the others at the face's.
double departing_share(const OutlineEdge& edge, const Circle& circle, const scale::Plane& plane,
                       const Heights& heights) {
    constexpr double clear = 0.4;  // of the usual contrast; shadows taken for part come to 0.2
    constexpr double far_mm = 2;
    double departing = 0;
    for (const auto& point : edge.points) {
        const auto is_far = [&](double height_mm) {
            const auto mm = scale::plane_from_pixel(plane, point.px, height_mm);
            return mm && std::abs(cv::norm(*mm - circle.centre) - circle.radius) > far_mm;
        };
        const bool is_clear = !point.doubtful && point.contrast_share > clear;
        departing += is_clear && is_far(heights.face) && is_far(heights.bench) ? 1 : 0;
    }
    return departing / static_cast<double>(std::max<std::size_t>(1, edge.points.size()));
}

}  // namespace

bool CleanOutline::usable() const {
    constexpr std::size_t fewest = 32;
    return points.size() >= fewest;
}

// The outline without noise, back in pixels, each point at its own height.
CleanOutline clean_outline(const OutlineEdge& edge, const scale::Plane& plane, const Heights& heights,
                           double px_per_mm) {
    std::vector<cv::Point2d> at_face;
    std::vector<bool> doubtful;
    for (const auto& point : edge.points) {
        if (const auto mm = scale::plane_from_pixel(plane, point.px, heights.face)) {
            at_face.push_back(*mm);
            doubtful.push_back(point.doubtful);
        }
    }
    CleanOutline outline;
    const auto bridged = without_doubtful_runs(at_face, doubtful);
    outline.doubtful_share = bridged.doubtful_share;
    outline.lost_share = edge.lost_share;
    outline.soft_share = edge.soft_share;
    outline.dark_band_share = edge.dark_band_share;
    outline.faint_share = faint_share(edge);
    const auto plan = without_spikes(
        within_both_readings(without_noise(bridged.closed_mm, outline_window_mm), plane, heights), outline);
    const RoundOutline round = circle_if_round(places_of(plan));
    outline.round = round.circle.has_value();
    outline.departing_share = round.circle ? departing_share(edge, *round.circle, plane, heights) : 0;
    outline.shadow_mm = round.shadow_mm;
    for (std::size_t i = 0; i < plan.size(); ++i) {
        const double height = plan[i].on_face ? heights.face : heights.bench;
        if (const auto px = scale::pixel_from_plane(plane, round.mm[i], height)) {
            outline.points.push_back({*px, plan[i].on_face});
        }
    }
    const double left_out_mm = edge.left_out_px / px_per_mm;
    constexpr double clear_edge = 0.4;  // of the usual contrast
    if (left_out_mm > right_angle_mm) {
        double& kind = edge.contrast_beneath > clear_edge ? outline.beyond_edge_mm : outline.spike_mm;
        kind = std::max(kind, left_out_mm);
    }
    return outline;
}

}  // namespace stripbook::measure
