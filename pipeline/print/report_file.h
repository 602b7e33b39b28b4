// A finished file put in its place: all of it or nothing.
#pragma once

#include <cstdio>
#include <filesystem>
#include <functional>
#include <string_view>

namespace stripbook::print {

/// The folder a file lies in; "." for a bare name.
std::filesystem::path folder_of(const std::filesystem::path& file);

/// Writes `bytes` under a temporary name in the same folder, syncs, and renames it to `file`, replacing what
/// was there. Throws OutsideError, naming the file and the reason, and leaves neither a part of it nor the
/// temporary file.
void write_whole_file(const std::filesystem::path& file, std::string_view bytes);

/// The same for a file that `write` writes piece by piece. What `write` throws passes on, but for a disk that
/// is full or fails.
void write_whole_file(const std::filesystem::path& file, const std::function<void(std::FILE*)>& write);

}  // namespace stripbook::print
