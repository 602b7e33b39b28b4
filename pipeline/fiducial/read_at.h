// Reading a fiducial where it must be: when others of the same tag fix its place, its modules can be sampled
// there even though dirt or a wire broke the square's outline, which is what finding needs.
#pragma once

#include <array>
#include <opencv2/core.hpp>
#include <optional>

#include "fiducial/find.h"

namespace stripbook::fiducial {

/// Reads the 36h11 fiducial whose black square has these corners (clockwise from its own top left, frame of
/// find.h). Nothing when the corners leave the picture, the square is too flat to read, or no identity is
/// within `most_wrong_bits` of what is seen in this very turn. The family keeps 11 bits between identities,
/// so up to 5 the nearest one is the only one; a random patch passes 5 in 0.4 % of cases (587 x 443,704 /
/// 2^36: the words within 5 bits) and 3 in 0.007 % (7,807 words).
std::optional<Fiducial> read_fiducial_at(const cv::Mat& grey, const std::array<PointPx, 4>& corners,
                                         int most_wrong_bits);

}  // namespace stripbook::fiducial
