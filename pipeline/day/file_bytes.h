// The bytes of an original in the book.
#pragma once

#include <string>

namespace stripbook::day {

/// Throws OutsideError when the file cannot be read.
std::string bytes_of_original(const std::string& path);

}  // namespace stripbook::day
