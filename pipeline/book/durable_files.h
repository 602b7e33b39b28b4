// Making sure that a file and its name are on the disk.
#pragma once

#include <filesystem>

namespace stripbook::book {

/// Waits until a file's bytes, or a folder's names, are on the disk. Throws OutsideError.
void sync_to_disk(const std::filesystem::path& file_or_folder);

/// Gives a synced file its final name, durably. Throws OutsideError.
void rename_durably(const std::filesystem::path& from, const std::filesystem::path& to);

}  // namespace stripbook::book
