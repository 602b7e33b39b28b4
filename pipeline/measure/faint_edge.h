// Stretches of an outline that run along hardly any edge although the rest runs along a clear one.
#pragma once

#include <vector>

#include "measure/edge_band.h"

namespace stripbook::measure {

/// The share (0 to 1) of the path through a band whose two sides differ by less than a tenth of what they
/// differ by in the middle of all places, where that is plain: there it follows a shadow's soft border, for
/// the part's edge was out of reach. 0 where the part hardly differs from the ground anywhere.
double faint_share(const EdgeBand& band, const std::vector<int>& path);

}  // namespace stripbook::measure
