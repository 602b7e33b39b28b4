// What format 4 of book.db adds to format 3, one file per kind of record. Never edited once books have taken
// it.
#pragma once

namespace stripbook::book {

extern const char* const format_4_clocks;
extern const char* const format_4_linking;
extern const char* const format_4_record;
extern const char* const format_4_refit;
extern const char* const format_4_find;
extern const char* const format_4_undo;

}  // namespace stripbook::book
