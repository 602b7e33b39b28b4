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
    std::string why_not;           ///< empty: it can be trusted
    ReadingsApart apart;           ///< between it and the edge's second reading
    ReadingsApart on_face_border;  ///< between it and the one without the broken edge in shadow
};

/// `outline`: that of `edge`, usable. Some faults of an outline count against it in any case, some only where
/// other readings of it do not come to the same sizes: with other weights, and to either side of its false
/// steps. `px_per_mm`: in the picture, about there. `beyond_px`: how far `edge` was moved beyond the face's
/// border (face_border.h).
OutlineVerdict verdict_on(const CleanOutline& outline, const OutlineEdge& edge, const OutlineSearch& search,
                          const scale::Plane& plane, const Heights& heights, double px_per_mm,
                          double beyond_px);

}  // namespace stripbook::measure
