// An outline read a second time, with less weight on edges that lie further out: where the part's own shadow
// decides which edge is taken, the two readings differ.
#pragma once

#include "measure/sizes.h"

namespace stripbook::measure {

/// How much an edge further out counts in the second reading (edge_merit.h).
inline constexpr double outer_edge_counts_less = 0.5;

/// By how much the sizes of the outline differ between its two readings.
struct ReadingsApart {
    double length_mm = 0;
    double width_mm = 0;
    double largest_mm = 0;
    double area_mm2 = 0;
    /// Length or width by more than 0.5 mm and 1 %.
    bool too_far = false;
};

/// `extent` is that of `seen.outline`. All 0 where there is no second reading.
ReadingsApart readings_apart(const PartSeen& seen, const Extent& extent, const scale::Plane& plane,
                             const Heights& heights);

}  // namespace stripbook::measure
