// What a workshop does to a tag: grime on it, things lying over it.
#pragma once

#include <cstdint>
#include <opencv2/core.hpp>
#include <vector>

#include "sample_maker/dice.h"

namespace stripbook::sample_maker {

/// Something opaque lying on a face: its outline in millimetres of the face (it may reach beyond) and its
/// grey level.
struct Cover {
    std::vector<cv::Point2d> outline_mm;
    double grey = 80;
};

/// A blob that hides `share` (0 to 0.9) of a face, anywhere on it. Throws WrongUse on another share.
Cover cover_of_share(cv::Size2d face_mm, double share, Dice& dice);

/// The share of a face that lies under the covers, to about 0.001.
double covered_share(cv::Size2d face_mm, const std::vector<Cover>& covers);

/// Random smooth values, 0 to 1 evenly spread by rank, with blots of about `grain_px` pixels.
cv::Mat1f cloud(cv::Size size, double grain_across_px, double grain_down_px, Dice& dice);

/// Dirt on a face, 0 clean to 1 dark, in blotches and smears; `share` (0 to 1) of the face is at 0.5 or more.
/// The map stretches over the whole face: its first pixel's left edge is the face's left edge. Throws
/// WrongUse on another share.
cv::Mat1f grime_map(cv::Size2d face_mm, double share, std::uint64_t seed);

}  // namespace stripbook::sample_maker
