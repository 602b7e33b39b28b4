// The outline of a round part as its circle, with the shadow beside it or without.
#pragma once

#include <opencv2/core.hpp>
#include <vector>

namespace stripbook::measure {

struct RoundOutline {
    std::vector<cv::Point2d> mm;  ///< as given, or each point moved onto the part's circle
    bool round = false;           ///< at least four in five of its points lie on the circle
    /// How far from the circle all but the farthest hundredth of its points lie at most; 0: not round. A lug,
    /// a flat or a shadow over less than a fifth of the edge does not show in the circle.
    double departs_mm = 0;
    double shadow_mm = 0;  ///< how far the shadow's circle lies from the part's; 0: none seen
};

/// A round part is known better from all of its edge than from its outermost points. Where the outline is no
/// circle but goes around a circle and its shadow, and clearly so, the part is the circle.
///
/// The part's rim is level, so one lamp casts its circle as one just as large, moved away from the light (a
/// parallel projection onto a parallel plane). Where the shadow is as dark as the part, the outline seen goes
/// around both.
RoundOutline circle_if_round(const std::vector<cv::Point2d>& outline_mm);

}  // namespace stripbook::measure
