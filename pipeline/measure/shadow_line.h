// Where an outline runs along the outer border of a narrow shadow beside the part.
#pragma once

#include <opencv2/core.hpp>
#include <vector>

#include "measure/edge_band.h"
#include "measure/outline_edge.h"

namespace stripbook::measure {

/// How wide what belongs to the part but is dark may look: its broken edge, and a wall turned to the camera.
struct DarkOfPart {
    double broken_px = 0;   ///< the broken edge
    RimOfFoot rim_of_foot;  ///< empty: no wall shows
};

/// A dark or pale line this many times as wide as a broken edge may be is none: broken edges of 0.78 mm were
/// seen where 0.5 is allowed for.
inline constexpr double surely_not_broken = 1.5;

/// How wide the wall looks at a point of the outline, px; 0 or less: it is turned away.
double wall_px(const DarkOfPart& dark, const EdgePoint& point);

/// How wide what is dark of the part may look there at most, px.
double own_dark_px(const DarkOfPart& dark, const EdgePoint& point);

/// Sets EdgePoint::aside_px to half the way back to the face where the point lies on the outer border of a
/// dark line in `picture`: the face ends in a sharper edge further in, straight along the outline, and the
/// dark between is too wide to be all of the part. Points that are aside already, show a wall or were placed
/// by hue tell of no such line; a few of the last two within one go with it.
void mark_shadow_line(const cv::Mat3b& picture, const DarkOfPart& dark, std::vector<EdgePoint>& points);

}  // namespace stripbook::measure
