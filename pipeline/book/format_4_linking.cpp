// What linking a day rests on and what it leaves to a person.
#include "book/format_4.h"

namespace stripbook::book {

const char* const format_4_linking = R"sql(
-- What waits for a person, what a person decided, and the stages of parts.
CREATE TABLE unsettled_group (
    number   INTEGER PRIMARY KEY,
    state    TEXT NOT NULL CHECK (state IN ('open', 'settled', 'apart', 'gone')),
    why      TEXT NOT NULL,
    decision TEXT NOT NULL DEFAULT '',
    ended_at TEXT,
    ended_by TEXT NOT NULL DEFAULT ''
) STRICT;
CREATE TABLE unsettled_group_photo (
    group_number INTEGER NOT NULL REFERENCES unsettled_group (number),
    photo        INTEGER NOT NULL REFERENCES photo (number),
    place        INTEGER NOT NULL,
    left_at      TEXT,
    PRIMARY KEY (group_number, photo)
) STRICT, WITHOUT ROWID;
CREATE INDEX unsettled_group_of_photo ON unsettled_group_photo (photo);
CREATE TABLE unsettled_group_suggestion (
    group_number INTEGER NOT NULL REFERENCES unsettled_group (number),
    letter       INTEGER NOT NULL,
    tag          TEXT NOT NULL,
    rank         INTEGER,
    chance       REAL,
    PRIMARY KEY (group_number, letter)
) STRICT, WITHOUT ROWID;
CREATE TABLE unsettled_group_cut (
    photo INTEGER PRIMARY KEY REFERENCES photo (number),
    who   TEXT NOT NULL,
    at    TEXT NOT NULL
) STRICT;
CREATE TABLE photo_without_part (
    photo INTEGER PRIMARY KEY REFERENCES photo (number),
    who   TEXT NOT NULL,
    at    TEXT NOT NULL
) STRICT;
CREATE TABLE photo_signature (
    photo INTEGER PRIMARY KEY REFERENCES photo (number),
    bytes BLOB NOT NULL
) STRICT;
CREATE TABLE part_stage (
    tag       TEXT NOT NULL REFERENCES part (tag),
    from_date TEXT NOT NULL,
    stage     TEXT NOT NULL,
    who       TEXT NOT NULL,
    at        TEXT NOT NULL,
    PRIMARY KEY (tag, from_date)
) STRICT, WITHOUT ROWID;
)sql";

}  // namespace stripbook::book
