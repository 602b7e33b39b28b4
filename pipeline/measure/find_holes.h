// The round holes of a part.
#pragma once

#include <opencv2/core.hpp>
#include <vector>

#include "measure/hole_edge.h"

namespace stripbook::measure {

struct RoundHole {
    Circle circle_mm;  ///< plane frame, at the view's height
    /// By how much its diameter differs between two readings of its edge that may both be right; 0: only one
    /// may.
    double readings_apart_mm = 0;
    double middles_apart_mm = 0;  ///< how far the centres of the two readings lie from each other
    /// By how much its diameter is larger than that of the holes like it (holes_alike.h) although those
    /// agree; 0: it is as they are, or there are too few.
    double unlike_mm = 0;
    /// The standard deviation of the diameters of the holes like it, without those unlike the others; 0 for
    /// one alone, and for two that may be two sizes. Holes alike are drilled alike: where they differ, it is
    /// mostly the edge that was found.
    double alike_scatter_mm = 0;
    /// Standard uncertainty of its diameter for a shadow that may lie in it unseen (own_shadow.h).
    double u_shadow_mm = 0;
};

/// Round holes within the part's outline (plane frame, at the view's height), the largest first.
/// `openings_mm`: where the background is seen through the part.
std::vector<RoundHole> find_holes(const FaceView& view, const std::vector<cv::Point2d>& outline_mm,
                                  const std::vector<std::vector<cv::Point2d>>& openings_mm,
                                  const HoleLooks& looks);

/// Sets each hole's unlike_mm and alike_scatter_mm from the others.
void compare_alike(std::vector<RoundHole>& holes);

}  // namespace stripbook::measure
