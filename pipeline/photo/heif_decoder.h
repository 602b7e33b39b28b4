// Pixels of a HEIC or AVIF picture, decoded by libheif.
#pragma once

#include <opencv2/core.hpp>
#include <string>
#include <string_view>

#include "photo/heif_container.h"

namespace stripbook::photo {

/// The stored picture (heif_container.h) as CV_8UC3 (BGR), transparent parts on white, more than 8 bits
/// rounded to 8. Empty when it does not decode whole: libheif gives no part of a picture.
cv::Mat decode_heif(std::string_view file_bytes, const HeifPicture& picture);

/// The Exif data of the primary picture, from the TIFF header on, or empty.
std::string heif_exif(std::string_view file_bytes);

/// The ICC colour profile of the primary picture, or empty.
std::string heif_profile(std::string_view file_bytes);

}  // namespace stripbook::photo
