// An outline read a second time with other weights: where the part's own shadow decides which edge is taken,
// the two readings differ.
#pragma once

#include "measure/edge_merit.h"
#include "measure/extent.h"

namespace stripbook::measure {

/// With them a shadow's border is taken for the part's edge less often, a broken edge's inner border for it
/// more often.
inline constexpr EdgeWeights second_weights{0.5, true, true, 2.2};

/// By how much the sizes of the outline differ between two readings of it; all 0 where there is only one.
struct ReadingsApart {
    double length_mm = 0;
    double width_mm = 0;
    double largest_mm = 0;
    double area_mm2 = 0;
    /// Length or width, whichever differs more, over what is too far: 0.75 mm or 1 %, whichever is larger.
    double of_limit = 0;
    double area_share = 0;  ///< of the first reading's area
};

ReadingsApart readings_apart(const Extent& first, const Extent& second);

}  // namespace stripbook::measure
