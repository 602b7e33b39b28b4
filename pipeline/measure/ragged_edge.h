// Where an outline runs along no clear edge: a line on one is smooth, a line in the soft border of a shadow
// jumps to and fro by pixels.
#pragma once

#include "measure/outline_edge.h"

namespace stripbook::measure {

/// The share (0 to 1) of the outline in long stretches that scatter by more than 1 px (rms, across the
/// outline) about parabolas through the points near by. A short one is a corner, or a step over a stain.
/// Where a shadow's border was told by the face's edge (shadow_line.h) it is allowed for, and does not count.
double ragged_share(const OutlineEdge& edge);

}  // namespace stripbook::measure
