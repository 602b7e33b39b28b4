// Where the outline of a dark part runs along the outer border of a shadow that is paler than the part.
#pragma once

#include <opencv2/core.hpp>
#include <vector>

#include "measure/outline_edge.h"
#include "measure/shadow_line.h"

namespace stripbook::measure {

/// Sets EdgePoint::aside_px to half the way back to the part where the outline is fainter than elsewhere and
/// `picture` shows an even band inside it, darker than the ground, paler than the face and wider than what
/// belongs to the part can be, that ends in an edge along the outline. Points that are aside already or were
/// placed by hue are left.
void mark_pale_shadow(const cv::Mat3b& picture, const DarkOfPart& dark, std::vector<EdgePoint>& points);

}  // namespace stripbook::measure
