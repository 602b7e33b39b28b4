#include "book/book.h"

#include <fmt/format.h>
#include <sqlite3.h>

#include <algorithm>
#include <array>
#include <utility>

#include "book/act_recording.h"
#include "book/database.h"
#include "book/durable_files.h"
#include "book/lock.h"
#include "book/paths.h"
#include "book/sql_access.h"
#include "book/sql_errors.h"
#include "book/utf8.h"
#include "book/word_index.h"
#include "errors.h"

namespace stripbook::book {

namespace fs = std::filesystem;

struct Book::Inside {
    fs::path folder;
    Access access;
    std::unique_ptr<Lock> lock;  // before the database, so that it is let go last
    OpenDatabase open;
    number::BookCode code;
    std::string title;
    IdleStatements idle_statements;  // behind the database, so that they go first
    int depth = 0;                   // of together()
    std::string command{};           // of the act that is recorded; empty: none is
    std::int64_t act = 0;            // its number, once it has changed anything

    static std::unique_ptr<Inside> opened(const fs::path& folder, Access access, std::unique_ptr<Lock> lock);
};

namespace {

struct FirstRow {
    number::BookCode code;
    std::string title;
};

FirstRow first_row(SQLite::Database& database, const fs::path& file) {
    try {
        SQLite::Statement row(database, "SELECT code, title FROM book");
        if (row.executeStep()) {
            if (auto code = number::BookCode::from_exact(row.getColumn(0).getString())) {
                return {*code, row.getColumn(1).getString()};
            }
        }
    } catch (const SQLite::Exception& error) {
        throw_in_words(error, file);
    }
    throw BookError(
        fmt::format("{}: the book is damaged (it does not say its code); keep this file and go back to a "
                    "copy",
                    printable_name(file.string())));
}

// What a start that was killed may have left; then it is finished by running it again.
bool is_left_by_a_start(const fs::directory_entry& entry, const fs::path& folder) {
    const std::string unfinished = unfinished_database(folder / database_name).string();
    const std::array<fs::path, 3> files{folder / lock_name, unfinished, unfinished + "-journal"};
    const std::array<fs::path, 4> folders{folder / photos_folder, folder / incoming_folder,
                                          folder / derived_folder, folder / reports_folder};
    if (entry.is_directory()) {
        return std::find(folders.begin(), folders.end(), entry.path()) != folders.end();
    }
    return std::find(files.begin(), files.end(), entry.path()) != files.end();
}

void check_nothing_in_the_way(const fs::path& folder) {
    const std::string name = printable_name(folder.string());
    if (fs::exists(folder / database_name)) {
        throw WrongUse(fmt::format("{} is a job book already: open it, or name another folder", name));
    }
    for (const auto& entry : fs::recursive_directory_iterator(folder)) {
        if (!is_left_by_a_start(entry, folder)) {
            throw WrongUse(fmt::format("{} is not empty (it holds {}): name a new folder for the book", name,
                                       printable_name(entry.path().filename().string())));
        }
    }
}

void make_folders(const fs::path& folder) {
    for (const char* name : {photos_folder, incoming_folder, derived_folder, reports_folder}) {
        fs::create_directories(folder / name);
    }
}

void execute(SQLite::Database& database, const std::string& sql, const fs::path& file) {
    try {
        database.exec(sql);
    } catch (const SQLite::Exception& error) {
        throw_in_words(error, file);
    }
}

bool in_transaction(SQLite::Database& database) {
    return sqlite3_get_autocommit(database.getHandle()) == 0;
}

void make_or_check_folder(const fs::path& folder) {
    if (fs::exists(folder) && !fs::is_directory(folder)) {
        throw WrongUse(
            fmt::format("{} is a file: name a new folder for the book", printable_name(folder.string())));
    }
    fs::create_directories(folder);
    check_nothing_in_the_way(folder);
    check_locking(folder);
}

}  // namespace

std::unique_ptr<Book::Inside> Book::Inside::opened(const fs::path& folder, Access access,
                                                   std::unique_ptr<Lock> lock) {
    const fs::path file = folder / database_name;
    OpenDatabase open =
        access == Access::write ? open_to_write(file, formats()) : open_to_read(file, formats());
    FirstRow row = first_row(*open.database, file);
    return std::make_unique<Inside>(Inside{
        folder, access, std::move(lock), std::move(open), std::move(row.code), std::move(row.title), {}});
}

Book Book::start(const fs::path& folder, const number::BookCode& code, const std::string& title,
                 const std::string& who) {
    check_typed_text(title, "title");
    try {
        const fs::path whole = fs::absolute(folder).lexically_normal();
        const fs::path here = whole.has_filename() ? whole : whole.parent_path();
        make_or_check_folder(here);
        auto lock = std::make_unique<Lock>(here, "start", 0);
        check_nothing_in_the_way(here);  // another start may just have been done
        make_folders(here);
        make_database(here / database_name, {code, title, who});
        sync_to_disk(here.parent_path());
        return Book(Inside::opened(here, Access::write, std::move(lock)));
    } catch (const fs::filesystem_error& error) {
        throw OutsideError(
            fmt::format("{} cannot be made a job book ({}): choose a folder that you may write in",
                        printable_name(folder.string()), error.code().message()));
    }
}

Book Book::open(const fs::path& folder, Access access, const std::string& doing, double wait_s) {
    std::error_code ignored;
    const fs::path here = fs::absolute(folder, ignored);
    if (!fs::is_regular_file(here / database_name, ignored)) {
        throw BookError(fmt::format("{} is not a job book: there is no {} in it; name the folder of a book",
                                    printable_name(folder.string()), database_name));
    }
    std::unique_ptr<Lock> lock;
    if (access == Access::write) {
        check_locking(here);
        lock = std::make_unique<Lock>(here, doing, wait_s);
    }
    return Book(Inside::opened(here, access, std::move(lock)));
}

std::optional<fs::path> Book::find(const fs::path& from) {
    std::error_code error;
    fs::path here = fs::absolute(from, error).lexically_normal();
    if (!error && !here.has_filename()) {
        here = here.parent_path();
    }
    while (!error) {
        if (fs::is_regular_file(here / database_name, error)) {
            return here;
        }
        error.clear();  // a folder that may not be looked into holds no book for us
        if (here == here.parent_path()) {
            break;
        }
        here = here.parent_path();
    }
    return std::nullopt;
}

Book::Book(std::unique_ptr<Inside> inside) : inside_(std::move(inside)) {}
Book::Book(Book&&) noexcept = default;
Book& Book::operator=(Book&&) noexcept = default;
Book::~Book() = default;

const fs::path& Book::folder() const {
    return inside_->folder;
}

const number::BookCode& Book::code() const {
    return inside_->code;
}

const std::string& Book::title() const {
    return inside_->title;
}

const std::string& Book::opening_note() const {
    return inside_->open.note;
}

void Book::together(const std::function<void()>& work) {
    SQLite::Database& database = *inside_->open.database;
    const fs::path file = inside_->folder / database_name;
    const bool outer = inside_->depth == 0;
    const std::string level = fmt::format("level_{}", inside_->depth);
    SqlAccess::check_transaction(*this);
    const char* const begin = inside_->access == Access::write ? "BEGIN IMMEDIATE" : "BEGIN";
    execute(database, outer ? begin : "SAVEPOINT " + level, file);
    ++inside_->depth;
    try {
        std::unique_ptr<ActRecording> recording;
        std::int64_t act = inside_->act;
        if (outer && !inside_->command.empty()) {
            recording = std::make_unique<ActRecording>(*this);
        }
        work();
        if (outer && inside_->access == Access::write) {
            index_due_words(*this);
        }
        SqlAccess::check_transaction(*this);
        if (recording) {
            act = recording->keep(act, inside_->command);
            recording.reset();
        }
        execute(database, outer ? "COMMIT" : "RELEASE " + level, file);
        inside_->act = act;
    } catch (...) {
        // SQLite may have undone everything by itself (a full disk).
        if (in_transaction(database)) {
            database.tryExec(outer ? "ROLLBACK" : "ROLLBACK TO " + level + "; RELEASE " + level);
        }
        --inside_->depth;
        throw;
    }
    --inside_->depth;
}

void Book::begin_act(const std::string& command) {
    inside_->command = command;
    inside_->act = 0;
}

SQLite::Database& SqlAccess::database(const Book& book) {
    return *book.inside_->open.database;
}

IdleStatements& SqlAccess::idle_statements(const Book& book) {
    return book.inside_->idle_statements;
}

fs::path SqlAccess::database_file(const Book& book) {
    return book.inside_->folder / database_name;
}

void SqlAccess::check_transaction(const Book& book) {
    if (book.inside_->depth > 0 && !in_transaction(database(book))) {
        throw BookError(fmt::format("{}: the changes of this command were undone; run it again",
                                    printable_name(database_file(book).string())));
    }
}

int current_format() {
    return formats().current;
}

}  // namespace stripbook::book
