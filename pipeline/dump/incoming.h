// The folder of copies that do not have their place yet, and its names: N.part while a copy is not proved,
// its SHA-256 once it is. A hash that the book knows belongs to an original; any other is left over and is
// copied again.
#pragma once

#include <cstddef>
#include <filesystem>
#include <functional>
#include <stdexcept>
#include <string>

#include "dump/file_door.h"

namespace stripbook::dump {

/// The folder's own name, in photos/ of the book (book::incoming_folder) and in the folder of second copies.
inline constexpr const char* incoming_name = ".incoming";

std::string part_name(std::size_t file_number);
bool is_part_name(const std::string& name);
bool is_hash_name(const std::string& name);

/// One file has no proved copy; one line.
class NotProved : public std::runtime_error {
  public:
    using std::runtime_error::runtime_error;
};

/// Whether a regular file at `place`, read past the cache, has this SHA-256. Throws FileError when it cannot
/// be read.
bool holds(FileDoor& door, const std::filesystem::path& place, const std::string& sha256,
           const std::function<void()>& between);

/// Whether two paths lead to one file, by links of either kind.
bool same_file(FileDoor& door, const std::filesystem::path& a, const std::filesystem::path& b);

}  // namespace stripbook::dump
