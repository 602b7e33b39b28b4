// The outline of a round part as its circle, with the shadow beside it or without.
#pragma once

#include <opencv2/core.hpp>
#include <vector>

#include "measure/circle_fit.h"

namespace stripbook::measure {

/// Two circles of one size: a round part, and the border of its shadow on the bench.
///
/// The part's rim is level, so one lamp casts its circle as one just as large, moved away from the light (a
/// parallel projection onto a parallel plane). Where the shadow is as dark as the part, the outline seen goes
/// around both.
struct ShadowedCircle {
    Circle part;
    cv::Point2d shadow;  ///< from the part's centre to its shadow's
};

/// Around which of two such circles the outline seen comes nearest, least squares with Cauchy's loss at
/// 0.1 mm. `start`: a circle through all of it.
ShadowedCircle shadowed_circle(const std::vector<cv::Point2d>& outline_mm, const Circle& start);

struct RoundOutline {
    std::vector<cv::Point2d> mm;  ///< as given, or each point moved onto the part's circle
    double shadow_mm = 0;         ///< how far the shadow's circle lies from the part's; 0: none seen
};

/// A round part is known better from all of its edge than from its outermost points. Where the outline is no
/// circle but goes around a circle and its shadow, and clearly so, the part is the circle.
RoundOutline circle_if_round(const std::vector<cv::Point2d>& outline_mm);

}  // namespace stripbook::measure
