// One photo made ready for measuring, as the program does it: pixels, fiducials, tags, focal length.
#pragma once

#include <filesystem>
#include <opencv2/core.hpp>
#include <optional>
#include <vector>

#include "fiducial/find.h"

namespace stripbook::bench {

struct ReadShot {
    cv::Mat colour;
    std::vector<fiducial::Fiducial> fiducials;
    std::vector<std::vector<cv::Point2d>> tags_px;
    std::optional<double> focal_length_35_mm;
};

/// Throws BadFile when the photo does not decode.
ReadShot read_shot(const std::filesystem::path& file);

}  // namespace stripbook::bench
