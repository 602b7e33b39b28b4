// The parts tree, inspection, paths, hazards.
#include "book/format_4.h"

namespace stripbook::book {

const char* const format_4_record = R"sql(
ALTER TABLE part ADD COLUMN parent TEXT REFERENCES part (tag) DEFERRABLE INITIALLY DEFERRED;
-- "parent" is a field now and no heading of a note any more; what was listed under it is kept under another.
UPDATE part SET notes = (SELECT json_group_object(
                             CASE lower(key) WHEN 'parent' THEN 'parent as listed' ELSE key END, value)
                         FROM json_each(part.notes))
    WHERE EXISTS (SELECT 1 FROM json_each(part.notes) WHERE lower(key) = 'parent');
CREATE INDEX part_by_parent ON part (parent) WHERE parent IS NOT NULL;

CREATE TABLE hazard (
    tag     TEXT NOT NULL REFERENCES part (tag),
    kind    TEXT NOT NULL CHECK (kind IN ('heavy', 'under load', 'asbestos', 'lead paint', 'fuel or oil',
                                          'sharp', 'electrical')),
    mass_kg REAL,
    note    TEXT NOT NULL,
    at      TEXT NOT NULL,
    who     TEXT NOT NULL,
    PRIMARY KEY (tag, kind)
) STRICT;

CREATE TABLE inspection (
    number   INTEGER PRIMARY KEY AUTOINCREMENT,
    tag      TEXT NOT NULL REFERENCES part (tag),
    kind     TEXT NOT NULL CHECK (kind IN ('finding', 'reading', 'limit', 'taken back')),
    words    TEXT NOT NULL,
    by_whom  TEXT NOT NULL,
    on_day   TEXT NOT NULL,
    at       TEXT NOT NULL,
    who      TEXT NOT NULL,
    corrects INTEGER UNIQUE REFERENCES inspection (number),
    why      TEXT NOT NULL
) STRICT;
CREATE INDEX inspection_by_tag ON inspection (tag);
CREATE TRIGGER inspection_is_not_deleted BEFORE DELETE ON inspection
    BEGIN SELECT RAISE(ABORT, 'nothing is deleted from an inspection'); END;

CREATE TABLE finding (
    entry   INTEGER PRIMARY KEY REFERENCES inspection (number),
    kind    TEXT NOT NULL,
    place   TEXT NOT NULL,
    how_bad TEXT NOT NULL,
    photos  TEXT NOT NULL
) STRICT;

CREATE TABLE gauge_reading (
    entry      INTEGER PRIMARY KEY REFERENCES inspection (number),
    feature    TEXT NOT NULL,
    spot       TEXT NOT NULL,
    value_mm   REAL NOT NULL,
    typed      TEXT NOT NULL,
    u_mm       REAL,
    instrument TEXT NOT NULL
) STRICT;
CREATE INDEX gauge_reading_by_instrument ON gauge_reading (instrument COLLATE NOCASE);

CREATE TABLE gauge_limit (
    entry       INTEGER PRIMARY KEY REFERENCES inspection (number),
    feature     TEXT NOT NULL,
    of_spread   INTEGER NOT NULL CHECK (of_spread IN (0, 1)),
    lower_mm    REAL,
    upper_mm    REAL,
    lower_typed TEXT NOT NULL,
    upper_typed TEXT NOT NULL,
    source      TEXT NOT NULL
) STRICT;

CREATE TABLE part_path (
    tag         TEXT PRIMARY KEY REFERENCES part (tag),
    path        TEXT NOT NULL,
    why         TEXT NOT NULL,
    by_whom     TEXT NOT NULL,
    at          TEXT NOT NULL,
    from_whom   TEXT NOT NULL,
    price_cents INTEGER,
    ordered_on  TEXT NOT NULL,
    received_on TEXT NOT NULL,
    drawing     TEXT NOT NULL,
    material    TEXT NOT NULL
) STRICT;

CREATE TABLE work (
    number      INTEGER PRIMARY KEY AUTOINCREMENT,
    tag         TEXT NOT NULL REFERENCES part (tag),
    work        TEXT NOT NULL,
    hours       REAL,
    at          TEXT NOT NULL,
    who         TEXT NOT NULL,
    done_on     TEXT NOT NULL,
    done_by     TEXT NOT NULL,
    hours_taken REAL,
    dropped_why TEXT NOT NULL
) STRICT;
CREATE INDEX work_by_tag ON work (tag);

CREATE TABLE line (
    number            INTEGER PRIMARY KEY AUTOINCREMENT,
    name              TEXT NOT NULL,
    maker_number      TEXT NOT NULL,
    assembly          TEXT NOT NULL,
    quantity_expected INTEGER NOT NULL,
    source            TEXT NOT NULL,
    at                TEXT NOT NULL,
    who               TEXT NOT NULL,
    UNIQUE (name, assembly)
) STRICT;

CREATE TABLE bagged_fastener (
    tag   TEXT NOT NULL REFERENCES part (tag),
    size  TEXT NOT NULL,
    count INTEGER NOT NULL,
    PRIMARY KEY (tag, size)
) STRICT;
)sql";

}  // namespace stripbook::book
