// The first directory of a TIFF: what it says of the picture that will be decoded.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace stripbook::photo {

struct TiffDirectory {
    std::optional<std::uint32_t> width, height;
    bool grey = false;
    /// A camera's raw file: a DNG version, sensor samples, or only a small copy of a picture elsewhere in it.
    bool raw = false;
    bool alpha_multiplied = false;      ///< colours are stored multiplied by their alpha
    std::size_t orientation_place = 0;  ///< of the Orientation entry in the file; 0 when there is none
};

/// "II*" or "MM" and "*".
bool is_tiff(std::string_view file_bytes);

/// TIFF 6.0, section 2. What cannot be read stays unsaid; of an entry that is there twice the first counts,
/// as in libtiff.
TiffDirectory read_tiff_directory(std::string_view file_bytes);

/// The file with the orientation 1, "as stored": the decoder would otherwise turn the picture.
std::string without_orientation(std::string_view file_bytes, const TiffDirectory& directory);

}  // namespace stripbook::photo
