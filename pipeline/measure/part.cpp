#include "measure/part.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>

#include "measure/bloom.h"
#include "measure/bolt_circle.h"
#include "measure/bore_model.h"
#include "measure/doubtful_runs.h"
#include "measure/edge_blur.h"
#include "measure/face_outline.h"
#include "measure/face_view.h"
#include "measure/faint_edge.h"
#include "measure/find_holes.h"
#include "measure/find_part.h"
#include "measure/outline_edge.h"
#include "measure/part_dimensions.h"
#include "measure/second_reading.h"
#include "measure/sizes.h"
#include "measure/surroundings.h"
#include "measure/thin_bits.h"

namespace stripbook::measure {

namespace {

constexpr double outline_window_mm = 4;
constexpr int view_side_px = 1600;
constexpr std::size_t fewest_points = 32;  // of an outline
// Of 240 made shots (seeds 2, 5, 6 and 7), six outlines that nothing else speaks against were off by more
// than 1.2 mm somewhere; three of them had more than this, and four of the others.
constexpr double most_doubtful_share = 0.02;

cv::Mat3b in_colour(const cv::Mat& picture) {
    if (picture.type() == CV_8UC3) {
        return picture;
    }
    cv::Mat3b colour;
    cv::cvtColor(picture, colour, cv::COLOR_GRAY2BGR);
    return colour;
}

PartMeasurement refused(Refusal refusal, std::string reason) {
    PartMeasurement part;
    part.refusal = refusal;
    part.reason = std::move(reason);
    return part;
}

double px_per_mm_at(cv::Point2d px, const scale::Plane& plane) {
    const auto here = scale::plane_from_pixel(plane, px, 0);
    const auto beside = scale::plane_from_pixel(plane, px + cv::Point2d(1, 0), 0);
    constexpr double shortest_mm = 1e-6;
    return here && beside ? 1 / std::max(shortest_mm, cv::norm(*beside - *here)) : 1;
}

RimOfFoot rim_of_foot(const scale::Plane& plane, const Heights& heights) {
    return [plane, heights](cv::Point2d foot_px) {
        const auto mm = scale::plane_from_pixel(plane, foot_px, heights.bench);
        const auto rim_px = mm ? scale::pixel_from_plane(plane, *mm, heights.face) : std::nullopt;
        return rim_px.value_or(foot_px);
    };
}

// The rough outline may follow a wall's rim where the wall is as dark as the bench; its foot must be in
// reach.
double farthest_foot_px(const RoughPart& rough, const scale::Plane& plane, const Heights& heights) {
    const auto foot_of_rim = rim_of_foot(plane, {heights.bench, heights.face});
    double far = 0;
    for (const auto& px : rough.outline_px) {
        far = std::max(far, cv::norm(foot_of_rim(px) - px));
    }
    return far;
}

OutlineReach reach_of(const RoughPart& rough, const scale::Plane& plane, const FaceHeight& height) {
    cv::Mat1f depth;
    cv::distanceTransform(rough.mask, depth, cv::DIST_L2, 3);
    double deepest = 0;
    cv::minMaxLoc(depth, nullptr, &deepest);
    constexpr double most_shadow_px = 90;
    constexpr double most_wall_px = 60;
    constexpr double share_of_depth = 0.8;
    OutlineReach reach;
    reach.inward_px = std::min(most_shadow_px, share_of_depth * small_scale * deepest);
    if (height.told) {
        reach.outward_px += std::min(most_wall_px, farthest_foot_px(rough, plane, height.heights));
    }
    return reach;
}

// A round part is known better from all of its edge than from its outermost points.
std::vector<cv::Point2d> circle_if_round(const std::vector<cv::Point2d>& outline_mm) {
    const auto start = geometric_circle(outline_mm);
    constexpr double off_circle_mm = 0.3;
    const auto circle = start ? robust_circle(outline_mm, *start, off_circle_mm) : std::nullopt;
    if (!circle) {
        return outline_mm;
    }
    double on = 0;
    for (const auto& p : outline_mm) {
        on += std::abs(cv::norm(p - circle->centre) - circle->radius) < off_circle_mm ? 1 : 0;
    }
    constexpr double nearly_all = 0.8;
    if (on < nearly_all * static_cast<double>(outline_mm.size())) {
        return outline_mm;
    }
    std::vector<cv::Point2d> rounded;
    for (const auto& p : outline_mm) {
        const cv::Point2d off = p - circle->centre;
        rounded.push_back(circle->centre + off * (circle->radius / cv::norm(off)));
    }
    return rounded;
}

struct CleanOutline {
    std::vector<OutlinePoint> points;
    double spike_mm = 0;        // how far the farthest spike stood out that was left out
    double thin_corner_mm = 0;  // the same of thin bits at corners, which are kept
    double lost_share = 0;      // as OutlineEdge's
    double faint_share = 0;     // of the points that hardly lie on an edge
    double doubtful_share = 0;  // as BridgedOutline
};

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
        outline.spike_mm = std::max(outline.spike_mm, bit.stands_out_mm);
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
    outline.faint_share = faint_share(edge.points);
    const auto plan = without_spikes(
        within_both_readings(without_noise(bridged.closed_mm, outline_window_mm), plane, heights), outline);
    const std::vector<cv::Point2d> mm = circle_if_round(places_of(plan));
    for (std::size_t i = 0; i < plan.size(); ++i) {
        const double height = plan[i].on_face ? heights.face : heights.bench;
        if (const auto px = scale::pixel_from_plane(plane, mm[i], height)) {
            outline.points.push_back({*px, plan[i].on_face});
        }
    }
    const double left_out_mm = edge.left_out_px / px_per_mm;
    constexpr double right_angle_mm = 0.65;  // as thin_bits
    if (left_out_mm > right_angle_mm) {
        outline.spike_mm = std::max(outline.spike_mm, left_out_mm);
    }
    return outline;
}

// A piece of shadow on one side may be all that a size hangs on.
bool hangs_on_faint(const OutlineEdge& edge, const Extent& extent, const scale::Plane& plane,
                    const Heights& heights, double px_per_mm) {
    OutlineEdge clear = edge;
    clear.points = without_faint(edge.points);
    if (clear.points.size() == edge.points.size()) {
        return false;
    }
    const CleanOutline outline = clean_outline(clear, plane, heights, px_per_mm);
    return outline.points.size() >= fewest_points &&
           readings_apart(extent, extent_of(outline_mm(outline.points, plane, heights))).too_far;
}

std::vector<cv::Point2d> circle_px(const Circle& circle_mm, const scale::Plane& plane, double height_mm) {
    constexpr int steps = 48;
    std::vector<cv::Point2d> points;
    for (int i = 0; i < steps; ++i) {
        const double turn = 2 * CV_PI * i / steps;
        const cv::Point2d mm =
            circle_mm.centre + circle_mm.radius * cv::Point2d(std::cos(turn), std::sin(turn));
        if (const auto px = scale::pixel_from_plane(plane, mm, height_mm)) {
            points.push_back(*px);
        }
    }
    return points;
}

std::vector<std::vector<cv::Point2d>> openings_mm(const RoughPart& rough, const scale::Plane& plane,
                                                  double height_mm) {
    std::vector<std::vector<cv::Point2d>> openings;
    for (const auto& opening : rough.openings_px) {
        std::vector<cv::Point2d> mm;
        for (const auto& px : opening) {
            if (const auto p = scale::plane_from_pixel(plane, px, height_mm)) {
                mm.push_back(*p);
            }
        }
        openings.push_back(mm);
    }
    return openings;
}

// The blur of the view's picture: the photo's as large as the view shows it, interpolated once more.
double blur_in(const FaceView& view, const cv::Mat3b& picture, const scale::Plane& plane) {
    const cv::Point2d middle(view.picture.cols / 2.0, view.picture.rows / 2.0);
    const auto in_photo = scale::pixel_from_plane(plane, view.mm_from_view(middle), view.height_mm);
    const double enlarged = in_photo ? view.px_per_mm / px_per_mm_at(*in_photo, plane) : 1;
    return std::hypot(enlarged * edge_blur_px(picture, plane), std::sqrt(interpolation_px2));
}

std::vector<RoundHole> holes_of(const cv::Mat3b& picture, const scale::Plane& plane, const RoughPart& rough,
                                const std::vector<OutlinePoint>& outline, const FaceHeight& height,
                                const Bloom& bloom) {
    const double face = height.heights.face;
    std::vector<OutlinePoint> flat = outline;
    for (auto& point : flat) {
        point.on_face = true;
    }
    const auto around = outline_mm(flat, plane, {face, face});
    const auto view = face_view(picture, plane, around, face, view_side_px);
    if (!view) {
        return {};
    }
    HoleLooks looks;
    looks.bloom = bloom;
    looks.chamfer_mm = height.chamfer_mm;
    const auto camera = scale::standpoint(plane);
    looks.sight = {camera.foot_mm, camera.height_mm - face, height.told ? face - height.heights.bench : 0};
    if (is_shallow(looks.sight)) {  // others are not asked for it
        looks.blur_px = blur_in(*view, picture, plane);
    }
    return find_holes(*view, around, openings_mm(rough, plane, face), looks);
}

// Whether the outline runs along or over the marker's squares, or close to them: there a square's edge is
// taken for the part's, or the dark between them for its shadow.
bool near_squares(const std::vector<OutlinePoint>& outline, const scale::Plane& plane) {
    constexpr double near_mm = 2.5;
    constexpr int most = 2;  // points: noise
    int met = 0;
    for (const auto& square : printed_squares_mm(plane)) {
        const std::vector<cv::Point2f> corners(square.begin(), square.end());
        for (const auto& point : outline) {
            const auto mm = scale::plane_from_pixel(plane, point.px, 0);
            met += mm && cv::pointPolygonTest(corners, cv::Point2f(*mm), true) > -near_mm ? 1 : 0;
        }
    }
    return met > most;
}

const char* const unclear_edge =
    "the part's edge cannot be told from the background all around: lay it on a ground of another colour, "
    "with light from all sides";

// Why the outline cannot be trusted; empty: it can.
std::string outline_fault(const CleanOutline& outline, const scale::Plane& plane) {
    constexpr double longest_spike_mm = 3;
    constexpr double longest_corner_mm = 1.2;  // of a corner of 54 degrees
    constexpr double most_faint =
        0.06;                           // good outlines of made shots come to 0.05, a shadow taken in to 0.16
    constexpr double most_lost = 0.33;  // shadows come to 0.3 on made shots, an end cut off to 0.4 and more
    if (near_squares(outline.points, plane)) {
        return "the part or its shadow comes too close to the black squares of the scale marker: lay it in "
               "the middle, clear of them";
    }
    if (outline.doubtful_share > most_doubtful_share || outline.faint_share > most_faint ||
        outline.spike_mm > longest_spike_mm || outline.thin_corner_mm > longest_corner_mm ||
        outline.lost_share > most_lost) {
        return unclear_edge;
    }
    return {};
}

template <typename Which>
void take_out(std::vector<Dimension>& dimensions, const Which& which) {
    dimensions.erase(std::remove_if(dimensions.begin(), dimensions.end(), which), dimensions.end());
    for (std::size_t i = 0; i < dimensions.size(); ++i) {
        dimensions[i].number = static_cast<int>(i) + 1;
    }
}

void without_outline(PartMeasurement& part, std::string reason) {
    part.outline_reason = std::move(reason);
    part.outline_px.clear();
    part.outline_mm.clear();
    take_out(part.dimensions, [](const Dimension& d) { return is_of_outline(d.kind); });
}

// Why a hole's diameter cannot be trusted; empty: it can.
std::string diameter_fault(const RoundHole& hole) {
    constexpr double too_far_mm = 0.5;
    constexpr double too_far = 0.01;
    if (hole.readings_apart_mm > std::max(too_far_mm, too_far * 2 * hole.circle_mm.radius)) {
        return "its edge can be read in two ways; light from all sides tells them apart";
    }
    if (hole.unlike_mm != 0) {
        return fmt::format("it came out {:.1f} mm {} than those like it; measure it",
                           std::abs(hole.unlike_mm), hole.unlike_mm > 0 ? "larger" : "smaller");
    }
    return {};
}

// Such a hole keeps its number, and its centre its distances.
void without_doubtful_diameters(PartMeasurement& part, const std::vector<RoundHole>& holes) {
    for (std::size_t i = 0; i < holes.size(); ++i) {
        const std::string fault = diameter_fault(holes[i]);
        const int number = static_cast<int>(i) + 1;
        if (!fault.empty()) {
            part.notes.push_back(fmt::format("Hole {} has no diameter: {}.", number, fault));
            take_out(part.dimensions, [&](const Dimension& d) {
                return d.kind == DimensionKind::hole_diameter && d.holes[0] == number;
            });
        }
    }
}

}  // namespace

PartMeasurement measure_part(const cv::Mat& picture, const scale::Plane& plane, const PartOptions& options) {
    constexpr int smallest_px = 256;
    if (std::min(picture.cols, picture.rows) < smallest_px) {
        return refused(Refusal::no_part,
                       "the picture is too small to measure in: use the camera's full size");
    }
    const cv::Mat3b colour = in_colour(picture);
    const Surroundings around = surroundings_of(colour.size(), plane, options.not_part_px);
    cv::Mat3b small;
    cv::resize(colour, small, around.sheet.size(), 0, 0, cv::INTER_AREA);
    const RoughPart rough = find_part(small, around);
    if (rough.refusal) {
        return refused(*rough.refusal, rough.reason);
    }
    const Bloom bloom = bloom_of(colour, plane);
    const FaceHeight height = face_height(options, rough.inside_frame);
    const double px_per_mm = px_per_mm_at(rough.outline_px.front(), plane);
    const OutlineSearch search(colour, rough, reach_of(rough, plane, height), bloom,
                               height.told ? rim_of_foot(plane, height.heights) : nullptr);
    const OutlineEdge edge = search.edge();
    const Heights heights = height.heights;
    PartSeen seen;
    const CleanOutline outline = clean_outline(edge, plane, heights, px_per_mm);
    if (outline.points.size() < fewest_points) {
        return refused(Refusal::background_unclear, unclear_edge);
    }
    seen.outline = outline.points;
    const auto holes = holes_of(colour, plane, rough, seen.outline, height, bloom);
    for (const auto& hole : holes) {
        seen.holes.push_back(circle_px(hole.circle_mm, plane, heights.face));
    }
    std::string why_not = outline_fault(outline, plane);
    ReadingsApart apart;
    if (why_not.empty()) {
        const Extent extent = extent_of(outline_mm(outline.points, plane, heights));
        const CleanOutline second = clean_outline(search.edge(second_weights), plane, heights, px_per_mm);
        // One with a fault of its own says nothing.
        if (second.points.size() >= fewest_points && outline_fault(second, plane).empty()) {
            apart = readings_apart(extent, extent_of(outline_mm(second.points, plane, heights)));
        }
        const bool unclear = apart.too_far || hangs_on_faint(edge, extent, plane, heights, px_per_mm);
        why_not = unclear ? unclear_edge : "";
    }
    PartMeasurement part = dimensions_of(seen, edge, holes, plane, height, bloom, apart);
    part.inside_frame = rough.inside_frame;
    part.around_px = rough.outline_px;
    without_doubtful_diameters(part, holes);
    const char* const what_counts = why_not.empty() ? "The outline is the widest one, a hole the narrowest."
                                                    : "A hole is the narrowest one.";
    part.notes.insert(part.notes.begin(), what_counts);
    if (!why_not.empty()) {
        without_outline(part, "No outside dimensions: " + why_not + ".");
        if (part.dimensions.empty()) {
            return refused(Refusal::background_unclear, why_not);
        }
    } else if (outline.spike_mm > 0) {
        part.notes.emplace_back("Something thinner than 2 mm that sticks out of the outline was left out.");
    }
    return part;
}

}  // namespace stripbook::measure
