// How far the photo moves edges into their darker side, from the marker's own squares.
//
// Blurring mixes light linearly, the picture keeps it bent (sRGB), so the steepest place of an edge lies in
// the darker side, about in proportion to (bright - dark) / (bright + dark) of the linear light. (Steepest
// place of L^(1/2.2) for a step blurred by a bell of sigma s: 0.44 s (r - 1) / (r + 1) from the edge, to
// first order.) Printed ink that runs or fails adds to it and is measured with it.
#pragma once

#include <opencv2/core.hpp>

#include "scale/plane.h"

namespace stripbook::measure {

struct Bloom {
    double px_per_contrast = 0;  ///< shift into the darker side at contrast 1
    double u_px_per_contrast =
        0.15;       ///< standard uncertainty: how much the squares' sides differ, and the model
    int sides = 0;  ///< it rests on
};

/// From the sides of the squares that are seen, with the edge finder that the part's edges get.
Bloom bloom_of(const cv::Mat3b& picture, const scale::Plane& plane);

}  // namespace stripbook::measure
