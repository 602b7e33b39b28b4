// Holes through a part as dark as its own shadow, from the borders of the lit ground seen through them.
#pragma once

#include <opencv2/core.hpp>
#include <optional>
#include <vector>

#include "measure/cast_shadow.h"

namespace stripbook::measure {

struct LitGround {
    CastShadow shadow;  ///< the one that suits all the borders
    /// Of each hole given, mm, plane frame; nothing where its ground does not look as it must.
    std::vector<std::optional<Circle>> bores_mm;
};

/// What is seen lit through a hole is cut off on three sides: by the hole's foot, by the border of its rim's
/// shadow and by the rim itself, where it hides the ground from the camera. All three are circles, known when
/// the hole's own and the shadow are: those that come nearest to the borders of all holes together (least
/// squares, Cauchy's loss). `start`: from shadow_in_holes, which takes the same arguments.
LitGround lit_ground(const CastShadow& start, const ViewLight& bench, const std::vector<Circle>& holes_mm,
                     const RimsAbove& rims);

}  // namespace stripbook::measure
