// JPEG data that the directories of a TIFF-like raw file point to.
#pragma once

#include <string_view>
#include <vector>

namespace stripbook::photo {

/// Pieces of the file, some of which may be no JPEG, or the raw samples in lossless JPEG: the caller looks at
/// them. Walks the chain of directories and their sub-directories, in any file that begins like a TIFF
/// (DNG, CR2, NEF, ARW, PEF; RW2 and ORF with their own number after the byte order).
std::vector<std::string_view> jpegs_in_tiff(std::string_view file_bytes);

}  // namespace stripbook::photo
