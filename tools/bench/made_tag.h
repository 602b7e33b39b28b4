// One made photograph of one tag: modest pictures, since drawing eight megapixels for each would take hours.
#pragma once

#include <cstdint>
#include <string>

#include "number/tag_number.h"
#include "sample_maker/scene.h"

namespace stripbook::bench {

/// What is done to the tag besides the random number, pose, paper, ink and background.
struct TagWish {
    double px_per_mm = 2;
    double grime = 0;
    double covered = 0;  ///< share of the face under one blob (a thumb, a part)
    double glare = 0;    ///< strength of one mirrored lamp somewhere on the face, as a share of white
    double shake_px = 0;
    double gain = 1;
    double noise = 5;
    bool wire = false;  ///< a dark wire 4 mm wide across the face
    bool torn = false;  ///< a torn corner, with the fiducial on it
    cv::Size size_px{800, 600};
};

struct MadeTag {
    sample_maker::Scene scene;
    number::TagNumber number;
};

/// Random number, turn, tilt to 25 degrees, place, paper 180 to 240, ink 20 to 55, any of the five
/// backgrounds, blur 0.6 px, noise 5 grey levels, JPEG 90.
MadeTag made_tag(const TagWish& wish, const number::BookCode& book, std::uint64_t seed);

/// A picture of the same kinds with no tag in it but things that look like parts of one: dark squares on
/// paper, foreign codes, chequers, text-like bars.
sample_maker::Scene made_clutter(cv::Size size_px, std::uint64_t seed);

/// Bytes of the JPEG file.
std::string file_of(const sample_maker::Scene& scene);

}  // namespace stripbook::bench
