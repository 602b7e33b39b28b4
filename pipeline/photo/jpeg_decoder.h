// Pixels of a JPEG: baseline and progressive, grey, YCbCr, RGB, CMYK and YCCK.
#pragma once

#include <opencv2/core.hpp>
#include <string_view>

namespace stripbook::photo {

struct JpegPixels {
    cv::Mat pixels;  ///< CV_8UC1 or CV_8UC3 (BGR); empty when nothing decodes
    double scale = 1;
    bool damaged = false;  ///< cut short or bad data: what is missing is filled in grey
};

/// `stored`: the size the head gave; a file that now says otherwise is damaged. Scaled down in steps of an
/// eighth to the smallest long side of at least `long_side_px`; 0: full size. std::bad_alloc when memory runs
/// out.
JpegPixels decode_jpeg(std::string_view file_bytes, cv::Size stored, bool grey, int long_side_px);

}  // namespace stripbook::photo
