// From what was seen to the table of dimensions with their uncertainty budgets.
#pragma once

#include <vector>

#include "measure/bloom.h"
#include "measure/find_holes.h"
#include "measure/outline_edge.h"
#include "measure/part.h"
#include "measure/second_reading.h"
#include "measure/sizes.h"

namespace stripbook::measure {

/// How high the face and the bench lie above the marker's plane, and how broken the edges are.
struct FaceHeight {
    Heights heights;
    double u_face_mm = 0;
    bool told = false;  ///< somebody said how high the face lies
    /// Edges are broken by a chamfer or a radius that the photo shows only in part: allowed for as a tenth of
    /// the height, at most 0.5 mm (common practice, no source).
    double chamfer_mm = 0;
    double u_chamfer_mm = 0;  ///< of a hole's radius: for that, and for an edge found on the chamfer
};
FaceHeight face_height(const PartOptions& options, bool inside_frame);

/// What the outline's sizes differ by when it is taken otherwise.
struct OutlineDoubts {
    ReadingsApart read_otherwise;
    /// Where the edge was seen, not aside of that in shadow; it may as well lie twice as far aside.
    ReadingsApart not_aside;
    double shadow_mm = 0;     ///< as RoundOutline's: what was taken for the shadow may be the part's
    double taken_off_mm = 0;  ///< as ShadowTakenOff's
};

PartMeasurement dimensions_of(const PartSeen& outline_and_holes, const OutlineEdge& edge,
                              const std::vector<RoundHole>& holes, const scale::Plane& plane,
                              const FaceHeight& height, const Bloom& bloom, const OutlineDoubts& doubts);

}  // namespace stripbook::measure
