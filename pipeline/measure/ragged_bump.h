// Whether a size of an outline rests on what is hardly the part's.
#pragma once

#include "measure/face_outline.h"
#include "measure/outline_edge.h"
#include "scale/plane.h"

namespace stripbook::measure {

/// Whether a bump stands up to 5 mm out of a side that is straight for most of its length, higher than the
/// low ones that a size bears (straight_side.h), and its border is ragged: a shadow's or a stain's. A lug has
/// a clear edge. `outline`: what became of `edge`, plane and heights those it was made with.
bool rests_on_ragged_bump(const std::vector<OutlinePoint>& outline, const OutlineEdge& edge,
                          const scale::Plane& plane, const Heights& heights);

}  // namespace stripbook::measure
