// A finished file put in its place: all of it or nothing.
#pragma once

#include <filesystem>
#include <string_view>

namespace stripbook::print {

/// Writes `bytes` under a temporary name in the same folder, syncs, and renames it to `file`, replacing what
/// was there. Throws OutsideError, naming the file and the reason, and leaves neither a part of it nor the
/// temporary file.
void write_whole_file(const std::filesystem::path& file, std::string_view bytes);

}  // namespace stripbook::print
