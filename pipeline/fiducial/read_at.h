// Reading a fiducial where it must be: when others of the same tag fix its place, its modules can be compared
// there even though dirt or a wire broke the square's outline, which is what finding needs.
#pragma once

#include <array>
#include <opencv2/core.hpp>
#include <optional>

#include "fiducial/find.h"

namespace stripbook::fiducial {

/// Reads the 36h11 fiducial whose black square has these corners (clockwise from its own top left, frame of
/// find.h) in this very turn. Nothing when the corners leave the picture, the square is too flat to read, or
/// no identity has at least this likeness, well before the next.
std::optional<Fiducial> read_fiducial_at(const cv::Mat& grey, const std::array<PointPx, 4>& corners,
                                         double least_likeness);

}  // namespace stripbook::fiducial
