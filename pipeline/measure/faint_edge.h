// Stretches of an outline that run along hardly any edge although the rest runs along a clear one.
#pragma once

#include <vector>

#include "measure/edge_band.h"
#include "measure/outline_edge.h"

namespace stripbook::measure {

/// At each place of the path through a band: how much its two sides differ, as a share of what they differ by
/// in the middle of all places, where that is plain. Near 0 the path follows a shadow's soft border, or
/// nothing, for the part's edge was out of reach. 1 everywhere where the part hardly differs from the ground.
std::vector<double> edge_contrasts(const EdgeBand& band, const std::vector<int>& path);

/// The share (0 to 1) of the points with less than a tenth of the usual contrast.
double faint_share(const std::vector<EdgePoint>& closed);

/// The outline straight over what has less than 0.15 of the usual contrast.
std::vector<EdgePoint> without_faint(const std::vector<EdgePoint>& closed);

}  // namespace stripbook::measure
