// The outline of a round part as its circle, with the shadow beside it or without.
#pragma once

#include <opencv2/core.hpp>
#include <optional>
#include <vector>

#include "measure/circle_fit.h"

namespace stripbook::measure {

struct RoundOutline {
    std::vector<cv::Point2d> mm;   ///< as given, or each point moved onto the part's circle
    std::optional<Circle> circle;  ///< the part's, if at least four in five of the points lie on it
    double shadow_mm = 0;          ///< how far the shadow's circle lies from the part's; 0: none seen
};

/// A round part is known better from all of its edge than from its outermost points. Where the outline is no
/// circle but goes around a circle and its shadow, and clearly so, the part is the circle.
///
/// The part's rim is level, so one lamp casts its circle as one just as large, moved away from the light (a
/// parallel projection onto a parallel plane). Where the shadow is as dark as the part, the outline seen goes
/// around both.
RoundOutline circle_if_round(const std::vector<cv::Point2d>& outline_mm);

}  // namespace stripbook::measure
