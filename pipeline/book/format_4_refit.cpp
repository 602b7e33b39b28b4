// What refitting needs to know of a part, and what goes before what.
#include "book/format_4.h"

namespace stripbook::book {

const char* const format_4_refit = R"sql(
CREATE TABLE refit_word (
    id     INTEGER PRIMARY KEY AUTOINCREMENT,
    kind   TEXT NOT NULL CHECK (kind IN ('before', 'together')),
    first  TEXT NOT NULL REFERENCES part (tag),
    second TEXT NOT NULL REFERENCES part (tag),
    at     TEXT NOT NULL,
    who    TEXT NOT NULL,
    UNIQUE (kind, first, second)
) STRICT;

CREATE TABLE refitted (
    tag TEXT PRIMARY KEY REFERENCES part (tag),
    at  TEXT NOT NULL,
    who TEXT NOT NULL
) STRICT;

CREATE TABLE refit_note (
    id       INTEGER PRIMARY KEY AUTOINCREMENT,
    tag      TEXT NOT NULL REFERENCES part (tag),
    number   INTEGER NOT NULL,
    kind     TEXT NOT NULL CHECK (kind IN ('match marks', 'way round', 'shim', 'setting', 'fastener',
                                           'torque', 'always new')),
    words    TEXT NOT NULL,
    size     TEXT NOT NULL,
    length   TEXT NOT NULL,
    count    INTEGER,
    place    TEXT NOT NULL,
    value    REAL,
    unit     TEXT NOT NULL,
    source   TEXT NOT NULL,
    at       TEXT NOT NULL,
    who      TEXT NOT NULL,
    ended_at TEXT,
    ended_by TEXT
) STRICT;
CREATE UNIQUE INDEX one_refit_note_of_a_number_holds ON refit_note (tag, number) WHERE ended_at IS NULL;
)sql";

}  // namespace stripbook::book
