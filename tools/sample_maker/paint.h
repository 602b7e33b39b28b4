// Paints one item of a scene into the picture.
#pragma once

#include <opencv2/core.hpp>

#include "sample_maker/scene.h"

namespace stripbook::sample_maker {

/// Each pixel is the mean of 4 x 4 samples over its square (from -0.5 to +0.5 around its centre), so that an
/// edge lies where the geometry puts it. Throws WrongUse when the item reaches behind the camera.
void paint(const Item& item, const Camera& camera, cv::Mat1f& picture);

}  // namespace stripbook::sample_maker
