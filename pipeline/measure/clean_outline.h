// The edge seen as the part's outline, without noise, spikes and doubtful runs.
#pragma once

#include <opencv2/core.hpp>
#include <vector>

#include "measure/face_outline.h"
#include "measure/outline_edge.h"
#include "scale/plane.h"

namespace stripbook::measure {

struct CleanOutline {
    std::vector<OutlinePoint> points;  ///< closed, each at its own height
    bool round = false;                ///< whether it is a circle (round_outline.h)
    /// Of a round one: the share of its points that lie on a clear edge more than 2 mm off the circle. A lug
    /// or a flat over less than a fifth of the edge does not show in the circle.
    double departing_share = 0;
    double spike_mm = 0;         ///< how far the farthest one left out stood out, 0 below right_angle_mm
    double beyond_edge_mm = 0;   ///< the same of what lies beyond a clear edge: a shadow
    double thin_corner_mm = 0;   ///< the same of thin bits at corners, which are kept
    double lost_share = 0;       ///< as OutlineEdge's
    double soft_share = 0;       ///< as OutlineEdge's
    double dark_band_share = 0;  ///< as OutlineEdge's
    double faint_share = 0;      ///< of the points that hardly lie on an edge
    double doubtful_share = 0;   ///< as BridgedOutline's
    double shadow_mm = 0;        ///< as RoundOutline's

    /// Whether there are enough points to be an outline.
    [[nodiscard]] bool usable() const;
};

/// `px_per_mm`: in the picture, about there. A round outline becomes its circle.
CleanOutline clean_outline(const OutlineEdge& edge, const scale::Plane& plane, const Heights& heights,
                           double px_per_mm);

}  // namespace stripbook::measure
