#include "measure/part.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <future>
#include <opencv2/imgproc.hpp>

#include "measure/bloom.h"
#include "measure/bolt_circle.h"
#include "measure/clean_outline.h"
#include "measure/edge_blur.h"
#include "measure/face_border.h"
#include "measure/face_outline.h"
#include "measure/face_view.h"
#include "measure/find_holes.h"
#include "measure/find_part.h"
#include "measure/outline_edge.h"
#include "measure/outline_verdict.h"
#include "measure/own_shadow.h"
#include "measure/part_dimensions.h"
#include "measure/sizes.h"
#include "measure/surroundings.h"
#include "measure/withheld.h"

namespace stripbook::measure {

namespace {

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

OutlineReach reach_of(const RoughPart& rough, const scale::Plane& plane, const FaceHeight& height,
                      double px_per_mm) {
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
        reach.broken_px = height.chamfer_mm * px_per_mm;
    }
    return reach;
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
    const auto view = face_view(picture, plane, around, face, whole_part_px);
    if (!view) {
        return {};
    }
    HoleLooks looks;
    looks.bloom = bloom;
    looks.chamfer_mm = height.chamfer_mm;
    const auto camera = scale::standpoint(plane);
    looks.sight = {camera.foot_mm, camera.height_mm - face, height.told ? face - height.heights.bench : 0};
    if (looks.sight.depth_mm > 0) {
        looks.blur_px = blur_in(*view, picture, plane);
    }
    return find_holes(*view, around, openings_mm(rough, plane, face), looks);
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
    const OutlineReach reach = reach_of(rough, plane, height, px_per_mm);
    const OutlineSearch search(colour, rough, reach, bloom,
                               height.told ? rim_of_foot(plane, height.heights) : nullptr);
    auto again = std::async(std::launch::async, [&] { return search.read_again(second_weights); });
    const OutlineEdge edge = moved_aside(search.edge(), 1);
    const Heights heights = height.heights;
    PartSeen seen;
    const CleanOutline outline = clean_outline(edge, plane, heights, px_per_mm);
    if (!outline.usable()) {
        return refused(Refusal::background_unclear, unclear_edge);
    }
    seen.outline = outline.points;
    auto found = std::async(std::launch::async,
                            [&] { return holes_of(colour, plane, rough, seen.outline, height, bloom); });
    const Readings readings{edge, moved_aside(again.get(), 1)};
    const auto verdict = verdict_on(outline, readings, plane, heights, px_per_mm, reach.broken_px);
    const std::string& why_not = verdict.why_not;
    WithoutShadow cleared{seen.outline, found.get(), 0};
    if (height.told && outline.shadow_mm == 0) {
        cleared = without_own_shadow(colour, plane, heights, seen.outline, cleared.holes);
    }
    const auto& holes = cleared.holes;
    seen.outline = cleared.outline;
    for (const auto& hole : holes) {
        seen.holes.push_back(circle_px(hole.circle_mm, plane, heights.face));
    }
    PartMeasurement part =
        dimensions_of(seen, edge, holes, plane, height, bloom,
                      {verdict.apart, verdict.not_aside, outline.shadow_mm, cleared.taken_off_mm});
    part.inside_frame = rough.inside_frame;
    part.around_px = rough.outline_px;
    without_doubtful_holes(part, holes);
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
    } else if (outline.beyond_edge_mm > 0) {
        part.notes.emplace_back(
            "Something narrow beyond the part's edge was taken for its shadow and left out.");
    }
    if (why_not.empty() && cleared.taken_off_mm > 0) {
        part.notes.push_back(fmt::format(
            "The part is as dark as its shadow: up to {:.1f} mm were taken off, as the light in its "
            "holes tells.",
            cleared.taken_off_mm));
    }
    return part;
}

}  // namespace stripbook::measure
