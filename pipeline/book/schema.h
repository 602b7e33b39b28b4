// The tables of a job book, as docs/book-format.md describes them.
#pragma once

namespace stripbook::book {

/// Marks a SQLite file as a job book (PRAGMA application_id): "StBk" in ASCII.
inline constexpr int book_application_id = 0x5374426B;

/// The format of a new book (PRAGMA user_version).
inline constexpr int schema_format = 5;

/// The tables of format 3. A new book is made with these and then brought up as an older one would be
/// (upgrade_steps.cpp), so that each later table is written down once.
extern const char* const schema_of_format_3;

}  // namespace stripbook::book
