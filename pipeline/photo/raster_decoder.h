// Pixels of a PNG or a TIFF, decoded by OpenCV.
#pragma once

#include <opencv2/core.hpp>
#include <string_view>

#include "photo/picture.h"

namespace stripbook::photo {

/// CV_8UC1 when stored in grey, else CV_8UC3 (BGR); 16-bit samples are rounded to 8, transparent parts lie on
/// white. Empty when it does not decode whole: OpenCV gives no part of a picture.
cv::Mat decode_raster(std::string_view file_bytes, FileFormat format);

}  // namespace stripbook::photo
