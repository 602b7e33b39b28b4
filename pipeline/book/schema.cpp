#include "book/schema.h"

namespace stripbook::book {

const char* const schema_of_format_3 = R"sql(
CREATE TABLE book (
    only       INTEGER PRIMARY KEY CHECK (only = 1),
    code       TEXT NOT NULL,
    title      TEXT NOT NULL,
    started_at TEXT NOT NULL,
    started_by TEXT NOT NULL
) STRICT;

CREATE TABLE setting (
    name  TEXT PRIMARY KEY,
    value TEXT NOT NULL
) STRICT;

CREATE TABLE history (
    id     INTEGER PRIMARY KEY AUTOINCREMENT,
    at     TEXT NOT NULL,
    who    TEXT NOT NULL,
    what   TEXT NOT NULL,
    field  TEXT NOT NULL,
    before TEXT NOT NULL,
    after  TEXT NOT NULL,
    how    TEXT NOT NULL
) STRICT;
CREATE INDEX history_by_what ON history (what, id);
CREATE TRIGGER history_is_not_deleted BEFORE DELETE ON history
    BEGIN SELECT RAISE(ABORT, 'nothing is deleted from the history'); END;
CREATE TRIGGER history_is_not_changed BEFORE UPDATE ON history
    BEGIN SELECT RAISE(ABORT, 'nothing is changed in the history'); END;

CREATE TABLE part (
    tag               TEXT PRIMARY KEY,
    name              TEXT NOT NULL,
    assembly          TEXT NOT NULL,
    place             TEXT NOT NULL,
    storage           TEXT NOT NULL,
    quantity_expected INTEGER,
    quantity_present  INTEGER,
    face_height_mm    REAL,
    condition         TEXT NOT NULL,
    path              TEXT NOT NULL,
    notes             TEXT NOT NULL,
    listed            INTEGER NOT NULL CHECK (listed IN (0, 1)),
    other_tag         TEXT NOT NULL DEFAULT ''
) STRICT;

CREATE TABLE dump (
    id         INTEGER PRIMARY KEY AUTOINCREMENT,
    card       BLOB NOT NULL,
    card_words TEXT NOT NULL,
    began_at   TEXT NOT NULL,
    ended_at   TEXT,
    outcome    TEXT NOT NULL,
    who        TEXT NOT NULL
) STRICT;

CREATE TABLE original (
    id          INTEGER PRIMARY KEY AUTOINCREMENT,
    sha256      TEXT NOT NULL UNIQUE,
    bytes       INTEGER NOT NULL,
    stored_path TEXT NOT NULL UNIQUE COLLATE NOCASE,
    kind        TEXT NOT NULL CHECK (kind IN ('photo', 'video', 'other'))
) STRICT;

CREATE TABLE card_file (
    id         INTEGER PRIMARY KEY AUTOINCREMENT,
    dump       INTEGER NOT NULL REFERENCES dump (id),
    original   INTEGER NOT NULL REFERENCES original (id),
    name       BLOB NOT NULL,
    name_words TEXT NOT NULL,
    bytes      INTEGER NOT NULL,
    modified_s REAL NOT NULL
) STRICT;
CREATE INDEX card_file_by_original ON card_file (original);
CREATE INDEX card_file_by_dump ON card_file (dump);

CREATE TABLE second_copy (
    original INTEGER NOT NULL REFERENCES original (id),
    folder   BLOB NOT NULL,
    at       TEXT NOT NULL,
    PRIMARY KEY (original, folder)
) STRICT;

CREATE TABLE camera (
    id       INTEGER PRIMARY KEY AUTOINCREMENT,
    maker    TEXT NOT NULL,
    model    TEXT NOT NULL,
    serial   TEXT NOT NULL,
    card     TEXT NOT NULL,
    offset_s REAL NOT NULL DEFAULT 0,
    UNIQUE (maker, model, serial, card)
) STRICT;

CREATE TABLE photo (
    number             INTEGER PRIMARY KEY AUTOINCREMENT,
    original           INTEGER NOT NULL UNIQUE REFERENCES original (id),
    card_file          INTEGER NOT NULL UNIQUE REFERENCES card_file (id),
    camera             INTEGER REFERENCES camera (id),
    time_s             REAL NOT NULL,
    time_text          TEXT NOT NULL,
    time_utc_offset    TEXT NOT NULL,
    time_source        TEXT NOT NULL,
    dcf_directory      INTEGER NOT NULL,
    dcf_counter        INTEGER NOT NULL,
    width_px           INTEGER NOT NULL DEFAULT 0,
    height_px          INTEGER NOT NULL DEFAULT 0,
    orientation        INTEGER NOT NULL DEFAULT 1,
    focal_length_mm    REAL,
    focal_length_35_mm REAL,
    read_state         TEXT NOT NULL DEFAULT 'not yet' CHECK (read_state IN ('not yet', 'read', 'damaged')),
    read_note          TEXT NOT NULL DEFAULT '',
    stage_by_person    TEXT,
    read_by            INTEGER NOT NULL DEFAULT 0
) STRICT;
CREATE INDEX photo_by_camera ON photo (camera);

CREATE TABLE sighting (
    photo       INTEGER NOT NULL REFERENCES photo (number),
    place       INTEGER NOT NULL,
    kind        TEXT NOT NULL CHECK (kind IN ('tag', 'scale marker', 'stage card', 'clock shot', 'report',
                                              'other code')),
    text        TEXT NOT NULL,
    confirmed   INTEGER NOT NULL CHECK (confirmed IN (0, 1)),
    how         TEXT NOT NULL,
    doubt       TEXT NOT NULL,
    by_qr       INTEGER NOT NULL CHECK (by_qr IN (0, 1)),
    fiducials   INTEGER NOT NULL,
    x0 REAL NOT NULL, y0 REAL NOT NULL, x1 REAL NOT NULL, y1 REAL NOT NULL,
    x2 REAL NOT NULL, y2 REAL NOT NULL, x3 REAL NOT NULL, y3 REAL NOT NULL,
    suggestions TEXT NOT NULL,
    PRIMARY KEY (photo, place)
) STRICT;

CREATE TABLE program_link (
    photo INTEGER NOT NULL REFERENCES photo (number),
    tag   TEXT NOT NULL REFERENCES part (tag),
    why   TEXT NOT NULL,
    sure  REAL NOT NULL,
    PRIMARY KEY (photo, tag)
) STRICT;
CREATE INDEX program_link_by_tag ON program_link (tag);

CREATE TABLE person_word (
    photo   INTEGER NOT NULL REFERENCES photo (number),
    tag     TEXT NOT NULL REFERENCES part (tag),
    belongs INTEGER NOT NULL CHECK (belongs IN (0, 1)),
    who     TEXT NOT NULL,
    at      TEXT NOT NULL,
    PRIMARY KEY (photo, tag)
) STRICT;
CREATE INDEX person_word_by_tag ON person_word (tag);

CREATE TABLE unsettled (
    photo       INTEGER PRIMARY KEY REFERENCES photo (number),
    why         TEXT NOT NULL,
    suggestions TEXT NOT NULL
) STRICT;

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

}  // namespace stripbook::book
