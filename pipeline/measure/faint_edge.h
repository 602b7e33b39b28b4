// Stretches of an outline that run along hardly any edge although the rest runs along a clear one.
#pragma once

#include <vector>

#include "measure/edge_band.h"
#include "measure/outline_edge.h"

namespace stripbook::measure {

struct EdgeContrasts {
    double usual = 0;            ///< how much the two sides of the path differ in the middle of all places
    std::vector<double> shares;  ///< of that, at each place
};

/// Of the path through a band, in the grey levels of its profiles. Where the share is near 0, the path
/// follows a shadow's soft border, or nothing, for the part's edge was out of reach.
EdgeContrasts edge_contrasts(const EdgeBand& band, const std::vector<int>& path);

/// The share (0 to 1) of the points with less than a tenth of the usual contrast; 0 where the part hardly
/// differs from the ground as a rule.
double faint_share(const OutlineEdge& edge);

/// The outline straight over what has less than 0.15 of the usual contrast, if that is more than noise.
std::vector<EdgePoint> without_faint(const OutlineEdge& edge);

}  // namespace stripbook::measure
