// The edge of one round hole.
#pragma once

#include <opencv2/core.hpp>
#include <optional>
#include <vector>

#include "measure/bloom.h"
#include "measure/circle_fit.h"
#include "measure/face_view.h"

namespace stripbook::measure {

struct HoleEdge {
    Circle circle_mm;     ///< plane frame, at the view's height; blooming taken off
    double support = 0;   ///< share of the directions in which an edge lies on the circle
    double strength = 0;  ///< mean slope there, grey levels per px
};

struct HoleLooks {
    Bloom bloom;
    double chamfer_mm = 0;  ///< how wide the broken edge may be
};

/// The hole's edge near what `rough_mm` says. Through a hole seen at an angle two rims show: the face's all
/// around, and beyond the wall the bench's on one side; a chamfer adds a third outside. The circle with the
/// strongest edge all around tells the centre; the narrowest one about the same centre, no further in than a
/// chamfer could be wide, is the hole.
std::optional<HoleEdge> hole_edge(const FaceView& view, const Circle& rough_mm, const HoleLooks& looks);

}  // namespace stripbook::measure
