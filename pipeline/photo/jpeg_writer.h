// JPEG files with nothing in them but the picture, the few bytes libjpeg must write (JFIF, Adobe) and a
// colour profile.
#pragma once

#include <opencv2/core.hpp>
#include <optional>
#include <string>
#include <string_view>

namespace stripbook::photo {

/// CV_8UC1 to a grey, CV_8UC3 (BGR) to a YCbCr 4:2:0 baseline JPEG. `profile`: ICC profile, or empty. Same
/// pixels, same bytes.
std::string write_jpeg(const cv::Mat& pixels, int quality, const std::string& profile);

struct CopiedJpeg {
    std::string bytes;     ///< baseline, Huffman tables made anew; pixels decode as the original's
    bool damaged = false;  ///< what is missing in the original is filled in grey
};

/// The picture of a grey or YCbCr JPEG without re-compressing it (its DCT coefficients are copied). Nothing
/// when the original is of another colour space or of another size than `stored`, or does not let itself be
/// read that way.
std::optional<CopiedJpeg> copy_jpeg(std::string_view file_bytes, cv::Size stored, const std::string& profile);

/// The ICC profile a JPEG carries, or empty.
std::string jpeg_profile(std::string_view file_bytes);

}  // namespace stripbook::photo
