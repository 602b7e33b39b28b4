// Pixels of one image file, at the size asked for. Strangers' bytes: call these in a worker (worker_pool.h).
// Frame: the stored picture, before any EXIF turn; whole numbers are pixel centres, x right, y down. Of HEIC
// and AVIF the coded picture within its clean aperture, before the container's turn (heif_container.h), of a
// raw file the camera's own preview: its pixels are what is counted.
#pragma once

#include <opencv2/core.hpp>
#include <string>
#include <string_view>

namespace stripbook::photo {

enum class FileFormat { jpeg, png, tiff, heif, raw, unknown };

/// By the first bytes, whatever the name says.
FileFormat format_of(std::string_view file_bytes);

/// Width and height from the file's head, without decoding; 0 x 0 when it cannot be told. Of a TIFF the first
/// picture, of a raw file the camera's preview in it (raw_preview.h).
cv::Size stored_size(std::string_view file_bytes);

/// The most pixels we decode: larger than any camera of the trade makes (151 MP backs: common practice, no
/// source).
inline constexpr double most_pixels = 160e6;

struct Picture {
    cv::Mat pixels;   ///< CV_8UC1 (grey) or CV_8UC3 (BGR); empty when nothing decodes
    cv::Size stored;  ///< size of the stored picture in pixels
    /// Pixels of `pixels` per stored pixel, both ways: 1, or an eighth of a whole number. The centre of
    /// stored pixel (x, y) lies at ((x + 0.5) * scale - 0.5, (y + 0.5) * scale - 0.5) of `pixels`. The size
    /// is rounded up, so width / stored width is not the scale.
    double scale = 1;
    bool whole =
        true;  ///< false: cut short or damaged; `pixels` then holds what there is, the rest grey, or nothing
    std::string fault;  ///< one line in plain words when not whole, without the file's name
    std::string note;   ///< one line of what else a person may want to know (a raw file's preview was read)
};

/// The stored picture in grey, full size. 16-bit samples are rounded to 8 bits and transparent parts lie on
/// white, here and below. std::bad_alloc when memory runs out.
Picture decode_grey(std::string_view file_bytes);

/// The stored picture in colour (sRGB assumed), decoded at the smallest size the decoder offers whose long
/// side is still at least `long_side_px` (full size when 0 or when the file is smaller). Only JPEG (and so a
/// raw file's preview) offers smaller sizes.
Picture decode_colour(std::string_view file_bytes, int long_side_px = 0);

}  // namespace stripbook::photo
