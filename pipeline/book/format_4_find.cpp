// The index of words that finding searches.
#include "book/format_4.h"

namespace stripbook::book {

// Triggers only note which parts' words are due: SQL cannot fold text. The program takes them into the index
// before it commits (word_index.cpp), and searches those that another program left due one by one.
const char* const format_4_find = R"sql(
CREATE VIRTUAL TABLE word_index USING fts5 (name, place, assembly, path, rest, prefix = '1 2 3',
                                            tokenize = 'unicode61 remove_diacritics 0');
CREATE TABLE word_index_due (
    tag TEXT PRIMARY KEY
) STRICT;
INSERT INTO word_index_due SELECT tag FROM part;
CREATE TRIGGER words_of_new_part AFTER INSERT ON part
    BEGIN INSERT OR IGNORE INTO word_index_due VALUES (new.tag); END;
CREATE TRIGGER words_of_changed_part AFTER UPDATE ON part
    BEGIN INSERT OR IGNORE INTO word_index_due VALUES (new.tag); END;
)sql";

}  // namespace stripbook::book
