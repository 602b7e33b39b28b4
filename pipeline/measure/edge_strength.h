// How strong an edge a picture shows along some points.
#pragma once

#include <algorithm>
#include <opencv2/core.hpp>

#include "measure/edge_profile.h"

namespace stripbook::measure {

/// What the colours just outside and just inside differ by, each the mean of three neighbours, grey levels of
/// `picture`; mean from point `first` to `last`. `place(k)` gives a point, px, and which way is out, a unit
/// vector, also for one point before the first and one behind the last.
template <typename Place>
double strength_along(const cv::Mat3b& picture, int first, int last, const Place& place) {
    constexpr double aside_px = 1.5;
    constexpr int near = 1;
    double sum = 0;
    for (int k = first; k <= last; ++k) {
        cv::Vec3f difference;
        for (int j = -near; j <= near; ++j) {
            const auto [here, outward] = place(k + j);
            difference +=
                colour_at(picture, here + outward * aside_px) - colour_at(picture, here - outward * aside_px);
        }
        sum += cv::norm(difference) / (2 * near + 1);
    }
    return sum / std::max(1, last - first + 1);
}

}  // namespace stripbook::measure
