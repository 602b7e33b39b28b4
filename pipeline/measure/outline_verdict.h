// Whether the outline of a part can be trusted.
#pragma once

#include <string>

#include "measure/clean_outline.h"
#include "measure/face_outline.h"
#include "measure/outline_edge.h"
#include "measure/second_reading.h"
#include "scale/plane.h"

namespace stripbook::measure {

/// Why a picture gives no outside dimensions, and what to do.
extern const char* const unclear_edge;

struct OutlineVerdict {
    std::string why_not;      ///< empty: it can be trusted
    ReadingsApart apart;      ///< between it and the edge's second reading
    ReadingsApart not_aside;  ///< between it and the edge where it was seen (EdgePoint::aside_px)
};

/// A part's edge, and the same read again with second_weights; both moved aside (EdgePoint::aside_px).
struct Readings {
    const OutlineEdge& first;
    OutlineEdge second;
};

/// `outline`: that of the first reading, usable. Some faults of an outline count against it in any case, some
/// only where other readings of it do not come to the same sizes: with other weights, and to either side of
/// its false steps. `px_per_mm`: in the picture, about there. `broken_px`: how wide the broken edge may be.
OutlineVerdict verdict_on(const CleanOutline& outline, const Readings& readings, const scale::Plane& plane,
                          const Heights& heights, double px_per_mm, double broken_px);

}  // namespace stripbook::measure
