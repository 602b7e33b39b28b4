// The container of HEIC and AVIF pictures (HEIF, ISO/IEC 23008-12): what it says of its primary picture, read
// by a few lines of our own.
#pragma once

#include <opencv2/core.hpp>
#include <optional>
#include <string_view>

namespace stripbook::photo {

/// The primary picture. Stored picture: the coded one within its clean aperture, before the container's turn
/// and mirroring, so that it is the sensor's grid as in a JPEG.
struct HeifPicture {
    cv::Size coded;   ///< 0 x 0 when it cannot be told
    cv::Rect stored;  ///< its place in the coded picture; all of it without a clean aperture
    std::optional<int>
        orientation;  ///< EXIF 1..8 from the container's `irot` and `imir`; nothing when it has none
    bool grey = false;
};

/// By the brands of the first box. Canon's raw files (CR3) have the same container and are none.
bool is_heif(std::string_view file_bytes);

/// Cameras write the same turn into the container and into the Exif data, and a reader follows the container
/// (ISO/IEC 23008-12, annex A): the one never adds to the other. Converters that only copy the Exif data
/// leave the container without a turn: then Exif's is all there is.
HeifPicture read_heif_container(std::string_view file_bytes);

}  // namespace stripbook::photo
