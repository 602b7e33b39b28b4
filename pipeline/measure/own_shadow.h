// A thin part as dark as its own shadow: its outline and its holes, the shadow told from the part.
#pragma once

#include <opencv2/core.hpp>
#include <vector>

#include "measure/face_outline.h"
#include "measure/find_holes.h"
#include "scale/plane.h"

namespace stripbook::measure {

struct WithoutShadow {
    std::vector<OutlinePoint> outline;
    std::vector<RoundHole> holes;
    double taken_off_mm = 0;  ///< how far the farthest point of the outline was moved; 0: none
};

/// On the side away from the light the edge of such a part is not seen, nor that of its holes. The lit ground
/// in the holes tells how far the shadow falls (lit_ground.h), and so where the edges lie (shadow_border.h).
/// What is given comes back as it is where there is no round hole, the part is thick or paler than its
/// shadow, or the holes do not agree. Where no shadow is seen in the holes of a thin dark part, it may be
/// taken for the part all around: the holes come back with an uncertainty for it.
WithoutShadow without_own_shadow(const cv::Mat3b& picture, const scale::Plane& plane, const Heights& heights,
                                 const std::vector<OutlinePoint>& outline,
                                 const std::vector<RoundHole>& holes);

}  // namespace stripbook::measure
