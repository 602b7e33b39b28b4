// Where an outline runs along no edge but a slope from light to dark: the border of a shadow whose lamp is
// large or near. The shadow is too wide for the part's edge to be in reach, or as bright as the part.
#pragma once

#include <opencv2/core.hpp>
#include <vector>

#include "measure/outline_edge.h"

namespace stripbook::measure {

/// The share (0 to 1) of the outline's points where the light changes from well inside to well outside, and
/// nowhere in between by any step. 0 where the part plainly differs from the ground: there faint_edge.h
/// tells, and a light part's broken edge may pass for such a slope.
double soft_share(const cv::Mat3b& picture, const OutlineEdge& edge);

}  // namespace stripbook::measure
