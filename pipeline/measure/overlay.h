// The photo with what was measured drawn on it, for the screen and the report.
#pragma once

#include <opencv2/core.hpp>

#include "measure/dimension.h"

namespace stripbook::measure {

/// A copy of `picture` (CV_8UC3 or CV_8UC1, stored pixels) with outline, dimension lines and holes, each
/// dimension under its number. Lines are dark with a white rim, so that they show on any ground and in a
/// black and white print. `orientation`: EXIF 1 to 8; the copy comes back upright, so that numbers read
/// upright.
cv::Mat draw_overlay(const cv::Mat& picture, const PartMeasurement& part, int orientation = 1);

}  // namespace stripbook::measure
