#include "book/database.h"

#include <SQLiteCpp/Backup.h>
#include <SQLiteCpp/Statement.h>
#include <SQLiteCpp/Transaction.h>
#include <fmt/format.h>
#include <sqlite3.h>

#include "book/clock.h"
#include "book/durable_files.h"
#include "book/paths.h"
#include "book/schema.h"
#include "book/sql_errors.h"
#include "errors.h"

namespace stripbook::book {

namespace {

constexpr int busy_wait_ms = 10000;

std::unique_ptr<SQLite::Database> connect(const std::filesystem::path& file, int flags) {
    auto database = std::make_unique<SQLite::Database>(file.string(), flags, busy_wait_ms);
    // A book may come from a stranger: what its tables and triggers call is not trusted.
    database->exec("PRAGMA trusted_schema = OFF");
    return database;
}

void check_is_file(const std::filesystem::path& file) {
    std::error_code ignored;
    if (!std::filesystem::is_regular_file(file, ignored)) {
        throw BookError(fmt::format("{} is not a job book: there is no {} in it; name the folder of a book",
                                    printable_name(file.parent_path().string()), database_name));
    }
}

// The format number. Touches the file for the first time, so this is where damage and half-done writes show.
int checked_format(SQLite::Database& database, const std::filesystem::path& file) {
    const int application = database.execAndGet("PRAGMA application_id").getInt();
    const int format = database.execAndGet("PRAGMA user_version").getInt();
    if (application != book_application_id || format < 1) {
        throw BookError(
            fmt::format("{} is not a job book; name the folder of a book", printable_name(file.string())));
    }
    return format;
}

bool needs_rollback(const SQLite::Exception& error) {
    return error.getExtendedErrorCode() == SQLITE_READONLY_ROLLBACK;
}

// Lets SQLite undo what a killed process left half done.
void roll_back(const std::filesystem::path& file) {
    try {
        auto database = connect(file, SQLite::OPEN_READWRITE);
        checked_format(*database, file);
    } catch (const SQLite::Exception&) {
        throw BookError(
            fmt::format("{}: a command was killed while it wrote into the book, and that cannot be undone "
                        "here, where nothing may be written; open the book once on a disk where it may",
                        printable_name(file.string())));
    }
}

std::unique_ptr<SQLite::Database> connect_to_read(const std::filesystem::path& file) {
    try {
        auto database = connect(file, SQLite::OPEN_READONLY);
        checked_format(*database, file);
        return database;
    } catch (const SQLite::Exception& error) {
        if (!needs_rollback(error)) {
            throw;
        }
    }
    roll_back(file);
    return connect(file, SQLite::OPEN_READONLY);
}

std::unique_ptr<SQLite::Database> upgraded_in_memory(SQLite::Database& older, const Formats& ours) {
    auto memory =
        std::make_unique<SQLite::Database>(":memory:", SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
    SQLite::Backup(*memory, older).executeStep();
    run_steps(*memory, ours);
    memory->exec("PRAGMA query_only = ON");
    return memory;
}

void prepare_to_write(SQLite::Database& database) {
    // No write-ahead log: it breaks on network drives and leaves a book of three files. EXTRA also syncs the
    // folder when the journal goes, so that a change that was reported is not undone by a power cut.
    database.execAndGet("PRAGMA journal_mode = DELETE");
    database.exec("PRAGMA synchronous = EXTRA");
    database.exec("PRAGMA foreign_keys = ON");
}

[[noreturn]] void refuse_newer(const std::filesystem::path& file, int format, const Formats& ours) {
    throw BookError(
        fmt::format("{} has format {}, this stripbook writes format {}: it can be read here, but only the "
                    "newer stripbook may change it",
                    printable_name(file.string()), format, ours.current));
}

void fill(SQLite::Database& database, const BookFacts& facts) {
    SQLite::Transaction transaction(database, SQLite::TransactionBehavior::IMMEDIATE);
    database.exec(schema_of_format_3);
    for (const auto& step : formats().steps) {
        if (step.from_format >= 3) {
            database.exec(step.sql);
        }
    }
    SQLite::Statement book(database, "INSERT INTO book VALUES (1, ?, ?, ?, ?)");
    book.bind(1, facts.code.text());
    book.bind(2, facts.title);
    book.bind(3, now_utc());
    book.bind(4, printable_name(facts.who));
    book.exec();
    database.exec(fmt::format("PRAGMA application_id = {}", book_application_id));
    database.exec(fmt::format("PRAGMA user_version = {}", schema_format));
    transaction.commit();
}

}  // namespace

OpenDatabase open_to_read(const std::filesystem::path& file, const Formats& ours) {
    check_is_file(file);
    try {
        auto database = connect_to_read(file);
        const int format = checked_format(*database, file);
        if (format < ours.current) {
            return {upgraded_in_memory(*database, ours),
                    fmt::format(
                        "the book has format {}; it is read as format {}, and upgraded by the next command "
                        "that changes it",
                        format, ours.current)};
        }
        const std::string note =
            format == ours.current
                ? ""
                : fmt::format(
                      "the book has format {}, newer than this stripbook's {}: it can only be read here",
                      format, ours.current);
        return {std::move(database), note};
    } catch (const SQLite::Exception& error) {
        throw_in_words(error, file);
    }
}

OpenDatabase open_to_write(const std::filesystem::path& file, const Formats& ours) {
    check_is_file(file);
    try {
        auto database = connect(file, SQLite::OPEN_READWRITE);
        const int format = checked_format(*database, file);
        if (format > ours.current) {
            refuse_newer(file, format, ours);
        }
        // SQLite silently opens for reading only where it may not write.
        if (sqlite3_db_readonly(database->getHandle(), "main") != 0) {
            throw SQLite::Exception("may not write", SQLITE_READONLY);
        }
        prepare_to_write(*database);
        const std::string note = format < ours.current ? upgrade(*database, file, ours) : "";
        database->exec("PRAGMA foreign_keys = ON");  // an upgrade leaves it off
        return {std::move(database), note};
    } catch (const SQLite::Exception& error) {
        throw_in_words(error, file);
    }
}

std::filesystem::path unfinished_database(const std::filesystem::path& file) {
    return file.string() + ".new";
}

void make_database(const std::filesystem::path& file, const BookFacts& facts) {
    const std::filesystem::path unfinished = unfinished_database(file);
    try {
        std::filesystem::remove(unfinished);
        std::filesystem::remove(unfinished.string() + "-journal");
        {
            auto database = connect(unfinished, SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
            prepare_to_write(*database);
            fill(*database, facts);
        }
        sync_to_disk(unfinished);
        rename_durably(unfinished, file);
    } catch (const SQLite::Exception& error) {
        throw_in_words(error, file);
    } catch (const std::filesystem::filesystem_error& error) {
        throw OutsideError(fmt::format("{} could not be made ({}); check the disk and try again",
                                       printable_name(file.string()), error.code().message()));
    }
}

}  // namespace stripbook::book
