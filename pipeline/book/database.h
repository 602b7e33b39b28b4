// Opening book.db: for reading, for writing, or made new.
#pragma once

#include <SQLiteCpp/Database.h>

#include <filesystem>
#include <memory>
#include <string>

#include "book/upgrade.h"
#include "number/tag_number.h"

namespace stripbook::book {

struct OpenDatabase {
    std::unique_ptr<SQLite::Database> database;
    std::string note;  ///< for the person, else empty
};

/// Opens `file` without writing, so that a book on a read-only disk serves. The one exception: what a killed
/// process left half done is rolled back, as SQLite must. An older format is upgraded in memory only; a newer
/// one gives a note. Throws BookError.
OpenDatabase open_to_read(const std::filesystem::path& file, const Formats& ours);

/// Opens `file` to change it; the caller holds the lock. An older format is copied aside and upgraded. Throws
/// BookError, also for a newer format.
OpenDatabase open_to_write(const std::filesystem::path& file, const Formats& ours);

/// Who a new book belongs to.
struct BookFacts {
    number::BookCode code;
    std::string title;
    std::string who;
};

/// The name a new book.db has until it is complete.
std::filesystem::path unfinished_database(const std::filesystem::path& file);

/// Makes a new book.db: complete under its name, or not there at all. Throws OutsideError.
void make_database(const std::filesystem::path& file, const BookFacts& facts);

}  // namespace stripbook::book
