// What lies behind the tags and markers.
#pragma once

#include <cstdint>
#include <opencv2/core.hpp>
#include <string>
#include <vector>

namespace stripbook::sample_maker {

enum class BackgroundKind { flat, gradient, noise, wood, metal };

struct Background {
    BackgroundKind kind = BackgroundKind::noise;
    double grey = 120;     ///< mean level
    double contrast = 60;  ///< from the darkest to the brightest, grey levels; nothing on a flat one
};

/// Its name on the command line. Throws WrongUse on another, naming the ones there are.
BackgroundKind background_kind(const std::string& name);

cv::Mat1f draw_background(const Background& background, cv::Size size_px, std::uint64_t seed);

}  // namespace stripbook::sample_maker
