// Tags that mean another part than the one they were printed for.
#include "book/format_5.h"

namespace stripbook::book {

// In the order of time: the latest line whose from_s is not after a photo counts. from_s is workshop time as
// if it were UTC; -1e12 is "always", before any photo.
const char* const format_5_mistakes = R"sql(
CREATE TABLE tag_meaning (
    tag    TEXT NOT NULL,
    from_s REAL NOT NULL,
    part   TEXT NOT NULL REFERENCES part (tag) DEFERRABLE INITIALLY DEFERRED,
    at     TEXT NOT NULL,
    who    TEXT NOT NULL,
    PRIMARY KEY (tag, from_s)
) STRICT;
CREATE INDEX tag_meaning_by_part ON tag_meaning (part);
CREATE TRIGGER words_of_gone_part AFTER DELETE ON part
    BEGIN INSERT OR IGNORE INTO word_index_due VALUES (old.tag); END;
)sql";

}  // namespace stripbook::book
