// The steps from every older format of book.db. A step is never edited once books have taken it; a change of
// format adds one, brings schema.cpp to the same tables, and adds a book of the old format to
// tests/book/old_books.
#include "book/schema.h"
#include "book/upgrade.h"

namespace stripbook::book {

namespace {

// Print runs, scale marker sheets, other makers' tags, and which version of the reading station read a photo.
constexpr const char* from_1_to_2 = R"sql(
ALTER TABLE part ADD COLUMN other_tag TEXT NOT NULL DEFAULT '';
ALTER TABLE photo ADD COLUMN read_by INTEGER NOT NULL DEFAULT 0;
CREATE TABLE print_run (
    id    INTEGER PRIMARY KEY AUTOINCREMENT,
    at    TEXT NOT NULL,
    who   TEXT NOT NULL,
    size  TEXT NOT NULL CHECK (size IN ('large', 'small')),
    paper TEXT NOT NULL,
    fold  INTEGER NOT NULL CHECK (fold IN (0, 1))
) STRICT;

CREATE TABLE printed_tag (
    run   INTEGER NOT NULL REFERENCES print_run (id),
    tag   TEXT NOT NULL,
    again TEXT NOT NULL,
    PRIMARY KEY (run, tag)
) STRICT;
CREATE INDEX printed_tag_by_tag ON printed_tag (tag);
CREATE UNIQUE INDEX no_number_twice_by_accident ON printed_tag (tag) WHERE again = '';

CREATE TABLE marker_sheet (
    kind       TEXT NOT NULL CHECK (kind IN ('pocket', 'bench', 'mat')),
    number     INTEGER NOT NULL,
    pieces     INTEGER NOT NULL,
    at         TEXT NOT NULL,
    who        TEXT NOT NULL,
    retired_at TEXT,
    PRIMARY KEY (kind, number)
) STRICT;

CREATE TABLE marker_check (
    id        INTEGER PRIMARY KEY AUTOINCREMENT,
    kind      TEXT NOT NULL,
    number    INTEGER NOT NULL,
    across_mm REAL NOT NULL,
    along_mm  REAL NOT NULL,
    line_u_mm REAL NOT NULL,
    outer_mm  TEXT NOT NULL,
    at        TEXT NOT NULL,
    who       TEXT NOT NULL,
    FOREIGN KEY (kind, number) REFERENCES marker_sheet (kind, number)
) STRICT;
)sql";

}  // namespace

const Formats& formats() {
    static const Formats ours{schema_format, {{1, from_1_to_2}}};
    return ours;
}

}  // namespace stripbook::book
