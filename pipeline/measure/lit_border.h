// Where the lit ground seen through a hole ends.
#pragma once

#include <opencv2/core.hpp>
#include <vector>

#include "measure/cast_shadow.h"
#include "measure/circle_fit.h"
#include "measure/view_light.h"

namespace stripbook::measure {

/// Places on its border, mm, plane frame, on rays from the middle of what must be lit; empty where too few
/// of the rays meet an end of the light within `farthest_mm`. `bench`: of a view of the bench's plane.
std::vector<cv::Point2d> lit_border(const ViewLight& bench, const Circle& hole_mm, const CastShadow& shadow,
                                    double farthest_mm);

}  // namespace stripbook::measure
