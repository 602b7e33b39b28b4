// The steps from every older format of book.db. A step is never edited once books have taken it; a change of
// format adds one, and a book of the old format to tests/book/old_books.
#include "book/format_4.h"
#include "book/format_5.h"
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

// What measuring needs and gives: corners of scale markers, lens profiles, dimensions.
constexpr const char* from_2_to_3 = R"sql(
CREATE TABLE sighting_corner (
    photo    INTEGER NOT NULL,
    place    INTEGER NOT NULL,
    identity INTEGER NOT NULL,
    x0 REAL NOT NULL, y0 REAL NOT NULL, x1 REAL NOT NULL, y1 REAL NOT NULL,
    x2 REAL NOT NULL, y2 REAL NOT NULL, x3 REAL NOT NULL, y3 REAL NOT NULL,
    PRIMARY KEY (photo, place, identity),
    FOREIGN KEY (photo, place) REFERENCES sighting (photo, place) ON DELETE CASCADE
) STRICT;

CREATE TABLE lens_profile (
    camera          INTEGER NOT NULL REFERENCES camera (id),
    focal_length_mm REAL NOT NULL,
    width_px        INTEGER NOT NULL,
    height_px       INTEGER NOT NULL,
    focal_px        REAL NOT NULL,
    centre_x_px     REAL NOT NULL,
    centre_y_px     REAL NOT NULL,
    k1              REAL NOT NULL,
    k2              REAL NOT NULL,
    covariance      TEXT NOT NULL,
    photos          INTEGER NOT NULL,
    residual_rms_px REAL NOT NULL,
    at              TEXT NOT NULL,
    PRIMARY KEY (camera, focal_length_mm, width_px, height_px)
) STRICT;

CREATE TABLE measurement (
    id             INTEGER PRIMARY KEY AUTOINCREMENT,
    photo          INTEGER NOT NULL REFERENCES photo (number),
    tag            TEXT NOT NULL REFERENCES part (tag),
    at             TEXT NOT NULL,
    who            TEXT NOT NULL,
    version        INTEGER NOT NULL,
    by_hand        INTEGER NOT NULL CHECK (by_hand IN (0, 1)),
    basis          TEXT NOT NULL,
    marker         TEXT NOT NULL,
    sheet          TEXT NOT NULL,
    lens           TEXT NOT NULL,
    face_height_mm REAL,
    refusal        TEXT NOT NULL,
    notes          TEXT NOT NULL,
    superseded_by  INTEGER REFERENCES measurement (id)
) STRICT;
CREATE INDEX measurement_by_photo ON measurement (photo);
CREATE INDEX measurement_by_tag ON measurement (tag);

CREATE TABLE dimension (
    measurement INTEGER NOT NULL REFERENCES measurement (id),
    number      INTEGER NOT NULL,
    name        TEXT NOT NULL,
    value       REAL NOT NULL,
    expanded    REAL NOT NULL,
    unit        TEXT NOT NULL,
    holes       TEXT NOT NULL,
    note        TEXT NOT NULL,
    hint        TEXT NOT NULL,
    budget      TEXT NOT NULL,
    PRIMARY KEY (measurement, number)
) STRICT;
)sql";

}  // namespace

const Formats& formats() {
    static const std::string from_3_to_4 = std::string(format_4_clocks) + format_4_linking + format_4_record +
                                           format_4_refit + format_4_find + format_4_undo;
    static const std::string from_4_to_5 = std::string(format_5_find) + format_5_mistakes;
    static const Formats ours{schema_format,
                              {{1, from_1_to_2}, {2, from_2_to_3}, {3, from_3_to_4}, {4, from_4_to_5}}};
    return ours;
}

}  // namespace stripbook::book
