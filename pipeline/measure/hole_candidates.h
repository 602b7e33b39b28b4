// Where a part may have a round hole.
#pragma once

#include <opencv2/core.hpp>
#include <vector>

#include "measure/circle_fit.h"
#include "measure/face_view.h"

namespace stripbook::measure {

/// Dark and bright blobs, round edges and openings, one a place: circles of 3 mm or more (plane frame, at the
/// view's height), the largest first. Most of them are no hole.
std::vector<Circle> hole_candidates(const FaceView& view, const std::vector<cv::Point2d>& outline_mm,
                                    const std::vector<std::vector<cv::Point2d>>& openings_mm);

}  // namespace stripbook::measure
