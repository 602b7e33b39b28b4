// Grey levels across an outline, as means over its neighbours: noise and a shadow's grain go, a straight edge
// stays.
#pragma once

#include <opencv2/core.hpp>
#include <vector>

#include "measure/outline_edge.h"

namespace stripbook::measure {

/// Samples on a line across the outline: the first so far outward of the point, negative: inward.
struct SamplesAcross {
    double from_px = 0;
    double step_px = 1;
    int count = 0;
};

/// The outline without what noise makes of it; `half` neighbours on each side of a point have a say.
std::vector<EdgePoint> steadied(const std::vector<EdgePoint>& points, int half);

/// For each point, from inside to outside: the mean over the point and `half` neighbours on each side, of
/// which there must be more.
std::vector<std::vector<double>> greys_across(const cv::Mat3b& picture, const std::vector<EdgePoint>& steady,
                                              const SamplesAcross& samples, int half);

}  // namespace stripbook::measure
