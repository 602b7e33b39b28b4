// What the first bytes of an image file say of it, read by a few lines of our own: nothing is decoded, and no
// library sees a file whose size we will not decode.
#pragma once

#include <opencv2/core.hpp>
#include <string_view>

#include "photo/picture.h"

namespace stripbook::photo {

struct PictureHead {
    FileFormat format = FileFormat::unknown;
    cv::Size size;          ///< 0 x 0 when it cannot be told
    bool grey = false;      ///< stored in grey: one number a pixel, alpha apart
    bool lossless = false;  ///< a JPEG of a kind that holds raw samples and shows nothing
};

/// Of a raw file only the format: its size is its preview's (raw_preview.h).
PictureHead read_picture_head(std::string_view file_bytes);

}  // namespace stripbook::photo
