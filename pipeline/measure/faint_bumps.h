// Bumps and notches of an outline along hardly any edge, beside a clear one.
#pragma once

#include <opencv2/core.hpp>

#include "measure/outline_edge.h"

namespace stripbook::measure {

/// Where a faint stretch (faint_edge.h), or a doubtful one much fainter than the edge beside it, leaves a
/// smooth side and comes back to it, its points are put onto the side as it goes on, if `picture` shows an
/// edge there nearly as strong as before and behind: a piece of shadow was taken in, or a stain left out.
void put_faint_bumps_back(const cv::Mat3b& picture, OutlineEdge& edge);

}  // namespace stripbook::measure
