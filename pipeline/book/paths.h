// Every name on disk inside a job book, in one place. Relative paths are kept in the book, so the folder can
// be moved.
#pragma once

#include <filesystem>
#include <string>

namespace stripbook::book {

inline constexpr const char* database_name = "book.db";
inline constexpr const char* lock_name = "book.lock";
inline constexpr const char* photos_folder = "photos";
inline constexpr const char* incoming_folder = "photos/.incoming";  ///< copies not yet proved
inline constexpr const char* derived_folder = "derived";
inline constexpr const char* reports_folder = "reports";

/// Where one dump's originals go: photos/0001
std::string dump_folder(std::int64_t dump_number);

/// A name that every file system keeps: valid UTF-8, without control characters, leading dots or the
/// characters \ : * ? " < > | ; bytes that do not fit become %XX. "/" stays as the separator; "." and ".."
/// components are escaped.
std::string keepable_name(const std::string& name_on_card);

/// For people: valid UTF-8 stays, other bytes and control characters become \xNN. Never breaks a line or a
/// terminal.
std::string printable_name(const std::string& raw);

}  // namespace stripbook::book
