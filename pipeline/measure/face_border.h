// Where an outline runs along the border of the face, and the broken edge beyond it is as dark as the part's
// own shadow.
#pragma once

#include <opencv2/core.hpp>
#include <vector>

#include "measure/outline_edge.h"

namespace stripbook::measure {

/// Sets EdgePoint::aside_px to half of a broken edge where `picture` shows the face lit right up to them and
/// what lies outside darker than the face and than the lit ground, though not so dark as no broken edge of
/// the same part would be. Points where a wall shows, or whose place the hue told, are not looked at.
/// `broken_px`: how wide the broken edge may be.
void mark_face_border(const cv::Mat3b& picture, double broken_px, std::vector<EdgePoint>& points);

}  // namespace stripbook::measure
