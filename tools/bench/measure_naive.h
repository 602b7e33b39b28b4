// What one does today: one scale factor from one edge of the marker, no lens, no height, a box around the
// pixels that differ from the ground.
#pragma once

#include <opencv2/core.hpp>
#include <optional>
#include <vector>

#include "fiducial/find.h"

namespace stripbook::bench {

struct NaiveSize {
    double length_mm = 0;
    double width_mm = 0;
};

/// `rough_px`: the pixels' outline. Nothing without a fiducial of a scale marker.
std::optional<NaiveSize> naive_size(const std::vector<fiducial::Fiducial>& found,
                                    const std::vector<cv::Point2d>& rough_px);

}  // namespace stripbook::bench
