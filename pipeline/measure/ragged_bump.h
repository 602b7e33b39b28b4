// Whether a size of an outline rests on what is hardly the part's.
#pragma once

#include <opencv2/core.hpp>
#include <vector>

#include "measure/extent.h"
#include "measure/face_outline.h"
#include "measure/outline_edge.h"

namespace stripbook::measure {

/// Whether a bump stands up to 5 mm out of a side that is straight for most of its length, higher than the
/// low ones that a size bears (straight_side.h), and its border is ragged and faint: a shadow's or a stain's.
/// A lug has a clear edge. `outline`: what became of `edge`; `closed_mm`: its outline_mm, whose extent is
/// `extent`.
bool rests_on_ragged_bump(const std::vector<OutlinePoint>& outline, const std::vector<cv::Point2d>& closed_mm,
                          const Extent& extent, const OutlineEdge& edge);

}  // namespace stripbook::measure
