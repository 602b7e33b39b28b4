// A photo as reading leaves it for measuring.
#pragma once

#include <filesystem>
#include <opencv2/core.hpp>
#include <optional>
#include <vector>

#include "fiducial/find.h"

namespace stripbook::bench {

struct ReadShot {
    cv::Size size_px;
    std::vector<fiducial::Fiducial> fiducials;
    std::vector<std::vector<cv::Point2d>> tags_px;
    std::optional<double> focal_length_35_mm;
};

/// Throws BadFile when the file is no picture.
ReadShot read_shot(const std::filesystem::path& file);
cv::Mat colour_of(const std::filesystem::path& file);

}  // namespace stripbook::bench
