// What of a second reading of the edge says nothing against the first.
#pragma once

#include <functional>
#include <opencv2/core.hpp>

#include "measure/outline_edge.h"

namespace stripbook::measure {

/// The part's wall where it is turned to the camera.
struct Wall {
    /// Where the picture shows the foot of a wall whose rim it shows at this pixel. Empty: the part's height
    /// is not known.
    std::function<cv::Point2d(cv::Point2d rim_px)> foot_of_rim;
    double broken_px = 0;  ///< how wide the broken edge above it may be
};

/// `second`, put onto `first` where it only follows the rim of the wall whose foot `first` follows, and where
/// it follows hardly any edge although `first` follows a clear one. Both are readings of the same part's
/// edge, closed.
OutlineEdge without_explained(OutlineEdge second, const OutlineEdge& first, const Wall& wall);

}  // namespace stripbook::measure
