// What SQLite says, in this program's few kinds of failure and in plain words.
#pragma once

#include <SQLiteCpp/Exception.h>

#include <filesystem>

namespace stripbook::book {

/// Throws the Error that fits: OutsideError for a full or failing disk, BookError for all else. `database` is
/// named.
[[noreturn]] void throw_in_words(const SQLite::Exception& error, const std::filesystem::path& database);

}  // namespace stripbook::book
