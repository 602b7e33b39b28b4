#include "book/sql_errors.h"

#include <fmt/format.h>
#include <sqlite3.h>

#include "book/paths.h"
#include "errors.h"

namespace stripbook::book {

void throw_in_words(const SQLite::Exception& error, const std::filesystem::path& database) {
    const std::string name = printable_name(database.string());
    switch (error.getErrorCode()) {
        case SQLITE_FULL:
            throw OutsideError(
                fmt::format("{}: the disk is full; make room and run the same command again", name));
        case SQLITE_IOERR:
            throw OutsideError(
                fmt::format("{}: reading or writing failed ({}); check the disk, then run the same "
                            "command again",
                            name, error.getErrorStr()));
        case SQLITE_BUSY:
        case SQLITE_LOCKED:
            throw BookError(
                fmt::format("{}: the book is in use by another program; wait until it is done", name));
        case SQLITE_READONLY:
            throw BookError(
                fmt::format("{}: the book can only be read here: the disk is read-only or you may not "
                            "write in it; nothing was changed",
                            name));
        case SQLITE_CANTOPEN:
        case SQLITE_PERM:
        case SQLITE_AUTH:
            throw BookError(fmt::format("{}: the book cannot be opened; check that you may read it", name));
        case SQLITE_NOTADB:
            throw BookError(fmt::format("{} is not a job book; name the folder of a book", name));
        case SQLITE_CORRUPT:
            throw BookError(fmt::format("{}: the book is damaged ({}); keep this file and go back to a copy",
                                        name, printable_name(error.what())));
        default:
            throw BookError(fmt::format("{}: the book did not take this in ({}); nothing was changed", name,
                                        printable_name(error.what())));
    }
}

}  // namespace stripbook::book
