// Where an outline runs along no clear edge: a line on one is smooth, a line in the soft border of a shadow
// jumps to and fro by pixels.
#pragma once

#include <vector>

#include "measure/outline_edge.h"

namespace stripbook::measure {

/// Of each of its points, whether the outline scatters by more than 1 px there (rms, across the outline)
/// about a parabola through the points near by. Where a shadow's border was told by the face's edge
/// (shadow_line.h) it is allowed for, and does not count.
std::vector<bool> ragged_points(const OutlineEdge& edge);

/// The share (0 to 1) of the outline in long stretches of such points. A short one is a corner, or a step
/// over a stain.
double ragged_share(const OutlineEdge& edge);

}  // namespace stripbook::measure
