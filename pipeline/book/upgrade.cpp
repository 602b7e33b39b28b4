#include "book/upgrade.h"

#include <SQLiteCpp/Backup.h>
#include <SQLiteCpp/Statement.h>
#include <SQLiteCpp/Transaction.h>
#include <fmt/format.h>
#include <sqlite3.h>

#include <algorithm>
#include <fstream>
#include <iterator>

#include "book/durable_files.h"
#include "book/paths.h"
#include "book/sql_errors.h"
#include "errors.h"

namespace stripbook::book {

namespace {

int format_of(SQLite::Database& database) {
    return database.execAndGet("PRAGMA user_version").getInt();
}

const UpgradeStep& step_from(const Formats& to, int format) {
    const auto step = std::find_if(to.steps.begin(), to.steps.end(),
                                   [format](const UpgradeStep& s) { return s.from_format == format; });
    if (step == to.steps.end()) {
        throw BookError(
            fmt::format("this program has no way from book format {} to {}; use an older stripbook, or one "
                        "that knows it",
                        format, to.current));
    }
    return *step;
}

bool same_bytes(const std::filesystem::path& a, const std::filesystem::path& b) {
    std::ifstream file_a(a, std::ios::binary);
    std::ifstream file_b(b, std::ios::binary);
    using Bytes = std::istreambuf_iterator<char>;
    return file_a && file_b && std::equal(Bytes(file_a), Bytes(), Bytes(file_b), Bytes());
}

// book.db.format-1, or book.db.format-1.2 and so on where another book lies there: a copy is never
// overwritten.
std::filesystem::path free_name(const std::filesystem::path& wanted, const std::filesystem::path& copy) {
    std::filesystem::path name = wanted;
    for (int i = 2; std::filesystem::exists(name) && !same_bytes(name, copy); ++i) {
        name = fmt::format("{}.{}", wanted.string(), i);
    }
    return name;
}

// By SQLite's own copying and not by opening the file: closing a second handle would drop SQLite's locks on
// it.
std::filesystem::path copy_aside(SQLite::Database& database, const std::filesystem::path& file, int format) {
    const std::filesystem::path wanted = fmt::format("{}.format-{}", file.string(), format);
    const std::filesystem::path unfinished = wanted.string() + ".new";
    std::filesystem::remove(unfinished);
    std::filesystem::remove(unfinished.string() + "-journal");
    {
        SQLite::Database copy(unfinished.string(), SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
        SQLite::Backup backup(copy, database);
        const int result = backup.executeStep();
        if (result != SQLITE_DONE) {
            throw SQLite::Exception("the book was busy while it was copied", result);
        }
    }
    sync_to_disk(unfinished);
    std::filesystem::path kept = free_name(wanted, unfinished);
    rename_durably(unfinished, kept);
    return kept;
}

void check_references(SQLite::Database& database) {
    SQLite::Statement wrong(database, "PRAGMA foreign_key_check");
    if (wrong.executeStep()) {
        throw SQLite::Exception("records in " + wrong.getColumn(0).getString() + " would point to nothing",
                                SQLITE_CONSTRAINT);
    }
}

}  // namespace

void run_steps(SQLite::Database& database, const Formats& to) {
    // Tables that others point to can only be made anew while this is off; it cannot be changed inside a
    // transaction.
    database.exec("PRAGMA foreign_keys = OFF");
    SQLite::Transaction transaction(database, SQLite::TransactionBehavior::IMMEDIATE);
    for (int format = format_of(database); format < to.current; ++format) {
        database.exec(step_from(to, format).sql);
        database.exec(fmt::format("PRAGMA user_version = {}", format + 1));
    }
    check_references(database);
    transaction.commit();
}

std::string upgrade(SQLite::Database& database, const std::filesystem::path& file, const Formats& to) {
    const std::string name = printable_name(file.string());
    const int old_format = format_of(database);
    try {
        const auto kept = copy_aside(database, file, old_format);
        run_steps(database, to);
        return fmt::format("upgraded from format {} to {}; the old file is kept as {}", old_format,
                           to.current, printable_name(kept.filename().string()));
    } catch (const SQLite::Exception& error) {
        if (error.getErrorCode() == SQLITE_FULL || error.getErrorCode() == SQLITE_IOERR) {
            throw_in_words(error, file);
        }
        throw BookError(
            fmt::format("{} could not be upgraded from format {} to {} ({}); nothing was changed, the book "
                        "still serves the older stripbook",
                        name, old_format, to.current, printable_name(error.what())));
    } catch (const std::filesystem::filesystem_error& error) {
        throw OutsideError(
            fmt::format("{} could not be copied aside before its upgrade ({}); nothing was changed", name,
                        error.code().message()));
    }
}

}  // namespace stripbook::book
