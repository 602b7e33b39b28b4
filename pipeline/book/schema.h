// The tables of a job book, as docs/book-format.md describes them.
#pragma once

namespace stripbook::book {

/// Marks a SQLite file as a job book (PRAGMA application_id): "StBk" in ASCII.
inline constexpr int book_application_id = 0x5374426B;

/// The format that `schema_sql` makes (PRAGMA user_version).
inline constexpr int schema_format = 3;

extern const char* const schema_sql;

}  // namespace stripbook::book
