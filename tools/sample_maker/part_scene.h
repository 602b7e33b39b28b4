// A made photograph of one part with height that lies on or beside a scale marker, in colour and linear
// light.
#pragma once

#include <opencv2/core.hpp>
#include <string>

#include "sample_maker/scene.h"
#include "sample_maker/solid.h"
#include "sample_maker/solid_light.h"

namespace stripbook::sample_maker {

/// A surface with stains: clouds of `grain_px` over `share` of it.
struct Stained {
    Surface clean;
    cv::Vec3f stain{0.1F, 0.1F, 0.1F};
    double share = 0.1;
    double grain_px = 40;
};

struct PartScene {
    /// Camera, printed sheets (the first is the scale marker), blur, noise, quality and notes. Its background
    /// and greys are not used.
    Scene flat;
    Solid solid;
    cv::Point2d place_mm;  ///< of the part's origin in the marker's plane
    double turn_rad = 0;   ///< clockwise as seen
    double ground_mm = 0;  ///< of what the part lies on, above the marker's plane
    Lamps lamps;           ///< frame of the marker's plane
    double falloff = 0;    ///< light lost from the brightest to the darkest corner, share
    Stained part, bench;
    double exposure = 1;  ///< linear light of a white level face
};

/// Linear light, BGR. Each pixel near an edge of the part is the mean of 4 x 4 samples over its square.
cv::Mat3f linear_light_of(const PartScene& scene);

/// The whole file: JPEG in sRGB with Exif.
std::string photo_file_of(const PartScene& scene);

}  // namespace stripbook::sample_maker
