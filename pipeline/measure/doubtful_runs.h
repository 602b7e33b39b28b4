// Places where an outline could as well run elsewhere.
#pragma once

#include <opencv2/core.hpp>
#include <vector>

namespace stripbook::measure {

struct BridgedOutline {
    std::vector<cv::Point2d> closed_mm;  ///< as many points as before
    double doubtful_share = 0;           ///< of the points: in doubt and not bridged
};

/// Short runs of doubtful points are put where the outline goes that comes to them and leaves them (a cubic
/// with the tangents there), if it goes on nearly straight and they do not lie far from that. `doubtful`: one
/// for each point of the closed outline, whose points are evenly spaced.
BridgedOutline without_doubtful_runs(const std::vector<cv::Point2d>& closed_mm,
                                     const std::vector<bool>& doubtful);

}  // namespace stripbook::measure
