// Where an outline runs around the shadow of a part that is as pale as the ground.
#pragma once

#include <opencv2/core.hpp>
#include <vector>

#include "measure/outline_edge.h"
#include "measure/shadow_line.h"

namespace stripbook::measure {

/// The share (0 to 1) of the outline's points inside of which `picture` shows an even band darker than the
/// ground and than what lies further in, and wider than what is dark of the part can be. A wide shadow's
/// edges are the clearest in the picture then, and both readings of the outline take it in.
double dark_band_share(const cv::Mat3b& picture, const DarkOfPart& dark,
                       const std::vector<EdgePoint>& points);

}  // namespace stripbook::measure
