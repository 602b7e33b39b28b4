// Corners that the tracing of an outline cut off.
#pragma once

#include <opencv2/core.hpp>
#include <vector>

#include "measure/outline_edge.h"

namespace stripbook::measure {

/// Where two smooth sides of a closed outline meet in a corner that stands out, they are carried on to where
/// they meet, if `picture` shows an edge there nearly as strong as along the outline as it was traced: a
/// corner that is round in the picture stays as it is. `points`: evenly spaced, about 1.5 px apart; those at
/// the corner move.
void sharpen_corners(const cv::Mat3b& picture, std::vector<EdgePoint>& points);

}  // namespace stripbook::measure
