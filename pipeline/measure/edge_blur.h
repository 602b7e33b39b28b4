// How much the photo blurs edges, from the marker's own squares.
#pragma once

#include <opencv2/core.hpp>

#include "scale/plane.h"

namespace stripbook::measure {

/// What one more interpolation between pixels (colour_at) adds to a blur's variance, px^2: a weight of two
/// pixels at a random place between them.
inline constexpr double interpolation_px2 = 1.0 / 6;

/// Standard deviation, photo px, of the bell that a sharp edge is blurred with, as colour_at samples it, in
/// linear light: for a step F from 0 to 1 blurred by a bell of sigma s the integral of F (1 - F) is s /
/// sqrt(pi) (both sides of the normal distribution's Gini mean difference). The median of the squares' sides;
/// 1 when too few are seen.
double edge_blur_px(const cv::Mat3b& picture, const scale::Plane& plane);

}  // namespace stripbook::measure
