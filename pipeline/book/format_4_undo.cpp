// What people did, so that it can be taken back.
#include "book/format_4.h"

namespace stripbook::book {

const char* const format_4_undo = R"sql(
CREATE TABLE act (
    id             INTEGER PRIMARY KEY AUTOINCREMENT,
    at             TEXT NOT NULL,
    who            TEXT NOT NULL,
    command        TEXT NOT NULL,
    first_change   INTEGER NOT NULL,
    last_change    INTEGER NOT NULL,
    last_dump      INTEGER NOT NULL,
    last_print_run INTEGER NOT NULL,
    changeset      BLOB NOT NULL
) STRICT;
)sql";

}  // namespace stripbook::book
