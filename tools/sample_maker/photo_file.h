// The JPEG file around a picture.
#pragma once

#include <opencv2/core.hpp>
#include <string>

#include "sample_maker/scene.h"

namespace stripbook::sample_maker {

/// `picture`: CV_8UC1 or CV_8UC3 (BGR). Throws WrongUse on a quality or an orientation that is none.
std::string photo_file_of(const cv::Mat& picture, int quality, const CameraNotes& notes);

}  // namespace stripbook::sample_maker
