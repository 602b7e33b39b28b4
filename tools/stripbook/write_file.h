// A whole file written under a temporary name, then renamed, so that no half file is ever left.
#pragma once

#include <filesystem>
#include <string>

namespace stripbook::cli {

/// Throws OutsideError naming the file when it cannot be written.
void write_file(const std::filesystem::path& path, const std::string& bytes);

}  // namespace stripbook::cli
