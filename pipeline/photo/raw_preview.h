// Cameras' raw files (DNG, CR2, CR3, NEF, ARW, RAF, RW2, ORF, PEF): the JPEG that the camera made of the
// same exposure and put into the file. The raw samples themselves are not developed.
#pragma once

#include <string>
#include <string_view>

namespace stripbook::photo {

/// By the first bytes, and of a TIFF by its first directory: a DNG version, sensor samples, or a picture that
/// says it is only a small copy.
bool is_raw(std::string_view file_bytes);

/// The largest JPEG in the file that shows the picture, as bytes; empty when there is none. Its grid is the
/// sensor's, so the raw file's EXIF orientation holds for it.
std::string raw_preview(std::string_view file_bytes);

/// A smaller one is a thumbnail, in which no tag can be read (DCF's are 160 x 120; the previews of cameras
/// begin at 1600 x 1080 or so: common practice, no source).
inline constexpr int least_preview_long_side_px = 1000;

}  // namespace stripbook::photo
