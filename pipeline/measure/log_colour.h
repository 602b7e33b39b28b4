// Colours by their logarithms: a shadow moves a colour along one axis and leaves the other two.
#pragma once

#include <opencv2/core.hpp>

namespace stripbook::measure {

/// Of a colour in BGR grey levels (0 to 255): {brightness, red over green, blue over green}, natural
/// logarithms, the levels raised by a toe so that noise in the dark does not count.
///
/// Shade takes from the brightness (the levels of sRGB are nearly a power of the light, so a share of the
/// light is a step of the logarithm) and hardly from the two ratios.
cv::Vec3f log_colour(const cv::Vec3f& bgr);

/// The same of a whole picture, noise smoothed by a bell of `smooth_px` first.
cv::Mat3f log_colours(const cv::Mat3b& picture, double smooth_px);

}  // namespace stripbook::measure
