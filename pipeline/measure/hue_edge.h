// Where along a profile the part's light ends, whatever shadow begins there.
#pragma once

#include <opencv2/core.hpp>
#include <optional>
#include <vector>

#include "measure/hue_odds.h"

namespace stripbook::measure {

/// `colour`: BGR grey levels along a line from inside the part outwards, `px_per_sample` apart, the edge near
/// the middle. Each sample's linear light is a share of the part's colour and a share of the ground's, both
/// taken from the profile's own ends, whatever their brightness; the edge is where the part's share falls to
/// half. A shadow beside the edge, which draws a stronger edge in the brightness, moves it by nothing.
/// A wide shadow may have drawn the middle outwards, so that just inside it there is no part yet: then its
/// colour is taken from 2 px further in. Nothing when the two hues do not tell part from ground, or when that
/// place is not near the middle. Samples from the first one on.
std::optional<double> end_of_part_light(const std::vector<cv::Vec3f>& colour, double px_per_sample,
                                        const HueOdds& hues);

}  // namespace stripbook::measure
