// Edges along rays from about the middle of a hole, and the circles they lie on.
#pragma once

#include <opencv2/core.hpp>
#include <optional>
#include <vector>

#include "measure/circle_fit.h"
#include "measure/face_view.h"
#include "measure/hole_rims.h"

namespace stripbook::measure {

inline constexpr int ray_directions = 120;   ///< all around
inline constexpr double on_circle_px = 1.2;  ///< an edge this near lies on a circle
inline constexpr double least_share = 0.7;   ///< of the directions; with fewer it is no circle

/// An edge on one ray.
struct RayEdge {
    cv::Point2d px;
    int direction = 0;
    double slope = 0;     ///< grey levels per px
    double contrast = 0;  ///< positive: brighter outside the hole
    double merit = 0;     ///< 0 to 1: a strong slope, and none as strong a little further out
};

/// A circle and the edges on it, one a direction at most, each where it lies at the view's height
/// (HoleRims::of_bore).
struct RoundEdge {
    Circle circle;
    std::vector<RayEdge> edges;
    double merit = 0;  ///< 0 to 1, of the edges together
    [[nodiscard]] bool all_around() const;
};

/// Everything here is in pixels of the view. Edges between two radii, sorted by direction and by distance.
std::vector<RayEdge> edges_around(const FaceView& view, cv::Point2d centre_px, double from_px, double to_px);

/// The edges on this very circle.
RoundEdge edges_on(const std::vector<RayEdge>& edges, const Circle& circle, const HoleRims& rims);

/// The circle nearby that the edges lie on; nothing when they make none.
std::optional<RoundEdge> settled(const std::vector<RayEdge>& edges, Circle circle, const HoleRims& rims);

/// Circles through three edges at random (Fischler and Bolles, 1981), the well supported ones settled;
/// distinct ones, by radius. The same picture gives the same circles.
std::vector<RoundEdge> circles_in(const std::vector<RayEdge>& edges, cv::Point2d centre_px, double from_px,
                                  double to_px, const HoleRims& rims);

/// 0 to 1: share of the directions, each by how strong and how near its edge is.
double evidence_for(const RoundEdge& found);

}  // namespace stripbook::measure
