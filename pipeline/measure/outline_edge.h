// From a rough outline to the edge itself.
#pragma once

#include <functional>
#include <opencv2/core.hpp>
#include <vector>

#include "measure/bloom.h"
#include "measure/hue_odds.h"

namespace stripbook::measure {

struct EdgePoint {
    cv::Point2d px;       ///< blooming taken off
    cv::Point2d outward;  ///< unit vector in the picture, away from the part
    double slope = 0;     ///< grey levels per px
    double contrast = 0;  ///< as contrast_across, positive when the outside is brighter
};

struct OutlineEdge {
    std::vector<EdgePoint> points;  ///< closed, evenly spaced, about 1.5 px apart
    double clear_share = 0;         ///< of the points where no other edge would do as well
    double left_out_px = 0;         ///< how far what is thinner than the reach's `thin_px` stood out
};

/// How far the edge may lie from the rough outline. A shadow belongs to the rough outline, so it may lie far
/// inside.
struct OutlineReach {
    double inward_px = 24;
    double outward_px = 12;
    double thin_px = 12;  ///< half the thickness of what is no part of the outline: spikes, loops
};

/// Where the picture shows the rim of a wall whose foot it shows at this pixel. Empty: the part's height is
/// not known.
using RimOfFoot = std::function<cv::Point2d(cv::Point2d foot_px)>;

/// The closed path near `rough_px` (closed, clockwise as seen) that follows the outermost strong edge:
/// dynamic programming over profiles across the rough outline. Where the part turns a wall to the camera,
/// that edge is the wall's foot, and the wall's rim must be an edge too, as far inside as the height has it.
OutlineEdge find_outline_edge(const cv::Mat3b& picture, const std::vector<cv::Point2d>& rough_px,
                              const OutlineReach& reach, const Bloom& bloom, const RimOfFoot& rim_of_foot,
                              const HueOdds& hues);

}  // namespace stripbook::measure
