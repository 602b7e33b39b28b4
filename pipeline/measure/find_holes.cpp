#include "measure/find_holes.h"

#include <algorithm>
#include <cmath>
#include <opencv2/core/utility.hpp>
#include <opencv2/imgproc.hpp>
#include <optional>
#include <utility>

#include "measure/bore_choice.h"
#include "measure/hole_candidates.h"
#include "measure/holes_alike.h"

namespace stripbook::measure {

namespace {

bool within(const Circle& circle, const std::vector<cv::Point2d>& outline_mm) {
    std::vector<cv::Point2f> outline(outline_mm.begin(), outline_mm.end());
    // The face's own rim is a circle too.
    constexpr double least_land_mm = 2.5;
    return cv::pointPolygonTest(outline, circle.centre, true) > circle.radius + least_land_mm;
}

// The hole that a candidate leads to, if it does.
std::optional<HoleEdge> hole_of(const Circle& candidate, const FaceView& view,
                                const std::vector<cv::Point2d>& outline_mm, const HoleLooks& looks) {
    constexpr double rough = 0.85;
    if (!within({candidate.centre, rough * candidate.radius, 0}, outline_mm)) {
        return std::nullopt;
    }
    auto hole = hole_edge(view, candidate, looks);
    const bool is_one = hole && is_hole(*hole, view.px_per_mm) && within(hole->circle_mm, outline_mm);
    return is_one ? std::move(hole) : std::nullopt;
}

// Calls work(item, its index) for all of them, several at a time; each call may change its own item only.
template <typename Item, typename Work>
void for_each_at_once(std::vector<Item>& items, const Work& work) {
    cv::parallel_for_({0, static_cast<int>(items.size())}, [&](const cv::Range& some) {
        for (int i = some.start; i < some.end; ++i) {
            const auto at = static_cast<std::size_t>(i);
            work(items[at], at);
        }
    });
}

// Several candidates may lead to one hole, and not all of them to its rim.
void keep_better(const HoleEdge& hole, std::vector<HoleEdge>& holes) {
    const auto same = std::find_if(holes.begin(), holes.end(), [&](const auto& other) {
        return cv::norm(other.circle_mm.centre - hole.circle_mm.centre) <
               other.circle_mm.radius + hole.circle_mm.radius;
    });
    if (same == holes.end()) {
        holes.push_back(hole);
    } else if (hole.evidence > same->evidence) {
        *same = hole;
    }
}

// Which of its circles each hole is.
void set_bores(const FaceView& view, const HoleLooks& looks, std::vector<HoleEdge>& holes) {
    if (looks.sight.depth_mm > 0) {
        for_each_at_once(holes, [&](HoleEdge& hole, std::size_t) { choose_bore(view, looks, hole); });
        return;
    }
    for (auto& hole : holes) {
        // The strongest circle may be the face's rim, which lies higher, or go from rim to rim.
        hole.circle_mm.centre = hole.centre_mm;
    }
}

// Whether the wider reading is the face's rim around the broken edge of the narrower one. Where that one
// might be the lower rim of the wider, it is not told.
bool is_face_rim(const Circle& wider_mm, const Circle& bore_mm, const FaceView& view, const HoleRims& rims) {
    constexpr double near_px = 1.2;
    constexpr double rim_px = 1.5;
    const Circle wider = in_view(wider_mm, view);
    const Circle bore = in_view(bore_mm, view);
    const double wider_px = wider.radius - bore.radius;
    const cv::Point2d below = rims.of_higher(wider.centre, wider_px);
    const auto above = rims.bore_of_lower_rim(bore);
    const bool lower_rim =
        above && above->radius - bore.radius > rim_px && std::abs(above->radius - wider.radius) < rim_px;
    return wider_px > 0 && cv::norm(below - bore.centre) < near_px && !lower_rim;
}

// One hole out of its readings. A wider second reading may be the face's rim and says nothing then. Of a
// narrower one the bore lies between the two more often than at either: one of them goes from the bore's rim
// on one side to the face's on the other (made shots with known truth).
RoundHole resolved(const HoleEdge& hole, const FaceView& view, const HoleRims& rims) {
    RoundHole one{hole.circle_mm, 2 * std::abs(hole.second_mm.radius - hole.circle_mm.radius),
                  hole.middles_apart_mm};
    if (is_face_rim(hole.second_mm, hole.circle_mm, view, rims)) {
        one.readings_apart_mm = 0;
    } else if (hole.second_mm.radius < hole.circle_mm.radius) {
        one.circle_mm.radius = (hole.circle_mm.radius + hole.second_mm.radius) / 2;
    }
    one.readings_apart_mm = std::max(one.readings_apart_mm, hole.otherwise_mm);
    return one;
}

}  // namespace

void compare_alike(std::vector<RoundHole>& holes) {
    std::vector<double> radii;
    radii.reserve(holes.size());
    for (const auto& hole : holes) {
        radii.push_back(hole.circle_mm.radius);
    }
    for (auto& hole : holes) {
        hole.unlike_mm = 2 * unlike_those_alike(radii, hole.circle_mm.radius);
    }
    radii.clear();
    for (const auto& hole : holes) {
        if (hole.unlike_mm == 0) {
            radii.push_back(hole.circle_mm.radius);
        }
    }
    for (auto& hole : holes) {
        hole.alike_scatter_mm = 2 * scatter_of_alike(radii, hole.circle_mm.radius);
    }
}

std::vector<RoundHole> find_holes(const FaceView& view, const std::vector<cv::Point2d>& outline_mm,
                                  const std::vector<std::vector<cv::Point2d>>& openings_mm,
                                  const HoleLooks& looks) {
    const auto candidates = hole_candidates(view, outline_mm, openings_mm);
    std::vector<std::optional<HoleEdge>> edges(candidates.size());
    for_each_at_once(edges, [&](std::optional<HoleEdge>& edge, std::size_t i) {
        edge = hole_of(candidates[i], view, outline_mm, looks);
    });
    std::vector<HoleEdge> holes;
    for (const auto& edge : edges) {
        if (edge) {
            keep_better(*edge, holes);
        }
    }
    look_again_among_alike(view, looks, holes);
    take_reading_of_alikes(holes);
    set_bores(view, looks, holes);
    const HoleRims rims(view, looks.sight);
    std::vector<RoundHole> found;
    found.reserve(holes.size());
    for (const auto& hole : holes) {
        found.push_back(resolved(hole, view, rims));
    }
    compare_alike(found);
    return found;
}

}  // namespace stripbook::measure
