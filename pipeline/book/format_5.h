// What format 5 of book.db adds to format 4, one file per kind of record. Never edited once books have taken
// it.
#pragma once

namespace stripbook::book {

extern const char* const format_5_find;
extern const char* const format_5_mistakes;

}  // namespace stripbook::book
