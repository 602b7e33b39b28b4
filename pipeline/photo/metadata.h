// What a camera wrote into the file: Exif (CIPA DC-008), read by exiv2. Strangers' bytes: call in a worker.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace stripbook::photo {

struct Metadata {
    std::string maker, model, serial, lens;  ///< trimmed, valid UTF-8; empty when not said
    /// "2026-03-20T08:58:15.83": DateTimeOriginal with SubSecTimeOriginal, local to the camera; empty when
    /// not said or not a real date. Falls back to DateTimeDigitized, then DateTime.
    std::string time;
    std::string utc_offset;  ///< "+01:00" (Exif 2.31 OffsetTimeOriginal), empty when not said
    /// 1..8; anything else counts as 1. Of HEIC and AVIF the container's turn, where it has one.
    int orientation = 1;
    std::optional<double> focal_length_mm;
    std::optional<double> focal_length_35_mm;  ///< 0 (unknown) counts as not said
    std::string thumbnail;                     ///< the camera's own small picture, a JPEG; empty when none
    std::string fault;                         ///< one line when the metadata could not be read
};

/// Never throws: damaged metadata is a fault in the result.
Metadata read_metadata(std::string_view file_bytes);

/// Seconds since 1970-01-01 of a time as written in Metadata::time, as if it were UTC; nothing when it is no
/// time.
std::optional<double> seconds_of(const std::string& time);

}  // namespace stripbook::photo
