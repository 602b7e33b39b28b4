// Stretches of an outline that run along hardly any edge although the rest runs along a clear one.
#pragma once

#include <vector>

#include "measure/edge_band.h"
#include "measure/outline_edge.h"

namespace stripbook::measure {

/// Usual contrast from which on a part plainly differs from its ground, grey levels.
inline constexpr double plain_contrast = 40;

struct EdgeContrasts {
    double usual = 0;            ///< how much the two sides of the path differ in the middle of all places
    std::vector<double> shares;  ///< of that, at each place
    std::vector<double> at_rim;  ///< the same at the rim of a wall whose foot the path follows; 0: no wall
};

/// Of the path through a band, in the grey levels of its profiles. Where the share is near 0, the path
/// follows a shadow's soft border, or nothing, for the part's edge was out of reach.
EdgeContrasts edge_contrasts(const EdgeBand& band, const std::vector<int>& path);

/// The share (0 to 1) of the points with less than a tenth of the usual contrast; 0 where the part hardly
/// differs from the ground as a rule.
double faint_share(const OutlineEdge& edge);

/// Which points belong to stretches with less than 0.15 of the usual contrast, if that is more than noise.
/// Where the part plainly differs from the ground, a stretch goes on as far as the contrast is below 0.3: the
/// shares are means over neighbours, and the ends of a faint stretch are not clear either.
std::vector<bool> faint_stretches(const OutlineEdge& edge);

/// The outline straight over them.
std::vector<EdgePoint> without_faint(const OutlineEdge& edge);

}  // namespace stripbook::measure
