// What is known of the cameras' clocks, and the photos' true times.
#include "book/format_4.h"

namespace stripbook::book {

const char* const format_4_clocks = R"sql(
ALTER TABLE camera ADD COLUMN name TEXT NOT NULL DEFAULT '';
ALTER TABLE camera ADD COLUMN joined INTEGER REFERENCES camera (id);

CREATE TABLE clock_word (
    id            INTEGER PRIMARY KEY AUTOINCREMENT,
    camera        INTEGER NOT NULL REFERENCES camera (id),
    ahead_s       REAL NOT NULL,
    u_s           REAL NOT NULL,
    photo         INTEGER NOT NULL REFERENCES photo (number),
    who           TEXT NOT NULL,
    said_at       TEXT NOT NULL,
    taken_back_at TEXT
) STRICT;

CREATE TABLE clock_piece (
    camera          INTEGER NOT NULL REFERENCES camera (id),
    number          INTEGER NOT NULL,
    first_photo     INTEGER NOT NULL REFERENCES photo (number),
    last_photo      INTEGER NOT NULL REFERENCES photo (number),
    began           TEXT NOT NULL,
    ahead_s         REAL,
    u_s             REAL,
    drift_s_per_day REAL,
    how             TEXT NOT NULL,
    PRIMARY KEY (camera, number)
) STRICT;

CREATE TABLE true_time (
    photo       INTEGER PRIMARY KEY REFERENCES photo (number),
    corrected_s REAL NOT NULL,
    utc_s       REAL,
    u_s         REAL,
    how         TEXT NOT NULL
) STRICT;
)sql";

}  // namespace stripbook::book
