// The edge of one round hole.
#pragma once

#include <opencv2/core.hpp>
#include <optional>
#include <vector>

#include "measure/bloom.h"
#include "measure/circle_fit.h"
#include "measure/face_view.h"
#include "measure/hole_rims.h"

namespace stripbook::measure {

struct HoleEdge {
    Circle circle_mm;  ///< plane frame, at the view's height; blooming taken off
    Circle second_mm;  ///< the same read otherwise: the circle with the most evidence, whatever its centre
    std::vector<Circle> others_mm;  ///< all the circles with nearly as strong an edge all around
    cv::Point2d centre_mm;        ///< of the hole's own edge; the circle has the centre of the strongest one
    double middles_apart_mm = 0;  ///< how far the strongest circle's centre lies from that of the second
    /// How far off in diameter a bore is that explains the picture all but as well; 0: there is none.
    double otherwise_mm = 0;
    double support = 0;   ///< share of the directions in which an edge lies on the circle
    double evidence = 0;  ///< 0 to 1: share of the directions, each by how strong and how near its edge is
};

struct HoleLooks {
    Bloom bloom;
    double chamfer_mm = 0;  ///< how wide the broken edge may be
    double slack_mm = 0;    ///< how far the radius may lie from the rough one; 0: a third of it and more
    HoleSight sight;
    double blur_px = 1;  ///< of the view, as colour_at samples it; needed where the depth is known
};

inline constexpr double smallest_hole_mm = 3;  ///< in diameter

/// Whether an edge is clear and round enough for a hole's.
bool is_hole(const HoleEdge& edge, double px_per_mm);

/// The hole's edge near what `rough_mm` says, seen as hole_rims.h tells. The circle with the strongest edge
/// all around tells about where the centre lies; the narrowest one about the same centre (or where that lies
/// below a broken edge) with nearly as much of an edge, no further in than a chamfer could be wide, and that
/// is not only the lower rim of another, is the hole.
std::optional<HoleEdge> hole_edge(const FaceView& view, const Circle& rough_mm, const HoleLooks& looks);

}  // namespace stripbook::measure
