#include "book/upgrade.h"

#include <thread>

#include "book/database.h"
#include "book/history.h"
#include "child_process.h"
#include "errors.h"
#include "sample_book.h"
#include "where.h"

using namespace stripbook;
using namespace stripbook::test;
using book::Access;
using book::Book;
using book::Formats;
namespace fs = std::filesystem;

namespace {

const Formats with_weights{book::current_format() + 2,
                           {{book::current_format(), "ALTER TABLE part ADD COLUMN weight_kg REAL"},
                            {book::current_format() + 1, "UPDATE part SET weight_kg = 1.5"}}};

// "format-2", the format of a book made now.
const std::string today = std::to_string(book::current_format());
const std::string tomorrow = std::to_string(with_weights.current);

// book.db of a book with one part.
fs::path made_book(const ScratchFolder& scratch) {
    Book b = new_book(scratch / "petrel");
    book::save_part(b, book::Part(tag(417)), "Ana", "test");
    return scratch / "petrel" / "book.db";
}

int files_beside(const fs::path& file) {
    int count = 0;
    for (const auto& entry : fs::directory_iterator(file.parent_path())) {
        count += entry.path().filename().string().rfind("book.db", 0) == 0 ? 1 : 0;
    }
    return count - 1;
}

}  // namespace

TEST_CASE("An older book is copied aside and upgraded step by step", "[book]") {
    const ScratchFolder scratch;
    const fs::path file = made_book(scratch);
    const std::string before = bytes_of(file);
    {
        const auto open = book::open_to_write(file, with_weights);
        CHECK(open.note == "upgraded from format " + today + " to " + tomorrow +
                               "; the old file is kept as book.db.format-" + today);
        CHECK(open.database->execAndGet("PRAGMA foreign_keys").getInt() == 1);
    }
    CHECK(sqlite3_of(file, "PRAGMA user_version; SELECT weight_kg FROM part; PRAGMA integrity_check") ==
          tomorrow + "\n1.5\nok");
    const fs::path kept = file.string() + ".format-" + today;
    CHECK(sqlite3_of(
              kept,
              "PRAGMA application_id; PRAGMA user_version; PRAGMA integrity_check; SELECT tag FROM part") ==
          "1400128107\n" + today + "\nok\nPET-00417-D");
    CHECK(bytes_of(kept).size() == before.size());
    CHECK(files_beside(file) == 1);
    CHECK(book::open_to_write(file, with_weights).note.empty());
}

TEST_CASE("A copy set aside earlier is never overwritten", "[book]") {
    const ScratchFolder scratch;
    const fs::path file = made_book(scratch);
    write_file(file.string() + ".format-" + today, "an earlier book");
    CHECK_THAT(book::open_to_write(file, with_weights).note,
               Catch::Contains("book.db.format-" + today + ".2"));
    CHECK(bytes_of(file.string() + ".format-" + today) == "an earlier book");
    CHECK(sqlite3_of(file.string() + ".format-" + today + ".2", "PRAGMA user_version") == today);
}

TEST_CASE("A step that fails changes nothing", "[book]") {
    const ScratchFolder scratch;
    const fs::path file = made_book(scratch);
    const std::string before = bytes_of(file);
    const auto failing = [&](const std::string& sql) {
        Formats formats = with_weights;
        formats.steps[1].sql = sql;
        return message_of<BookError>([&] { book::open_to_write(file, formats); });
    };
    CHECK_THAT(failing("UPDATE nothing SET x = 1"),
               Catch::Contains("could not be upgraded from format " + today + " to " + tomorrow) &&
                   Catch::Contains("nothing was changed"));
    CHECK(bytes_of(file) == before);
    // A step that leaves a record pointing to nothing is a failed step.
    CHECK_THAT(failing("INSERT INTO program_link VALUES (99, 'PET-00417-D', 'x', 1)"),
               Catch::Contains("program_link would point to nothing"));
    CHECK(bytes_of(file) == before);
    CHECK_THAT(message_of<BookError>([&] {
                   book::open_to_write(file, Formats{book::current_format() + 1, {}});
               }),
               Catch::Contains("no way from book format " + today));
    CHECK(bytes_of(file) == before);
    CHECK(files_beside(file) == 1);  // the same copy serves every attempt
}

TEST_CASE("An upgrade killed on its way is begun again by the next command", "[book]") {
    const ScratchFolder scratch;
    const fs::path file = made_book(scratch);
    const auto size_before = fs::file_size(file);
    Formats endless = with_weights;
    endless.steps[1].sql =
        "CREATE TABLE big (a); WITH RECURSIVE n (i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n) "
        "INSERT INTO big SELECT randomblob(1000) FROM n";
    ChildProcess upgrading([&](const ChildProcess::Tell& /*tell*/) { book::open_to_write(file, endless); });
    constexpr std::uintmax_t spilled_bytes = 4U << 20U;  // beyond SQLite's cache: the file itself is half new
    while (fs::file_size(file) < size_before + spilled_bytes) {
        std::this_thread::sleep_for(std::chrono::milliseconds(5));
    }
    upgrading.end_with(SIGKILL);
    REQUIRE(fs::exists(file.string() + "-journal"));
    CHECK(sqlite3_of(file.string() + ".format-" + today, "PRAGMA integrity_check") == "ok");
    SECTION("the old program finds the old format") {
        const Book b = Book::open(scratch / "petrel", Access::read, "test");
        CHECK(book::all_parts(b).size() == 1);
        CHECK(sqlite3_of(file, "PRAGMA user_version; PRAGMA integrity_check") == today + "\nok");
    }
    SECTION("the new program finishes") {
        CHECK_THAT(book::open_to_write(file, with_weights).note,
                   Catch::Contains("upgraded from format " + today + " to " + tomorrow));
        CHECK(sqlite3_of(file, "PRAGMA user_version; SELECT weight_kg FROM part; PRAGMA integrity_check") ==
              tomorrow + "\n1.5\nok");
        CHECK(files_beside(file) == 1);
    }
}

TEST_CASE("An older book is read without being changed", "[book]") {
    const ScratchFolder scratch;
    const fs::path file = made_book(scratch);
    const std::string before = bytes_of(file);
    const auto open = book::open_to_read(file, with_weights);
    CHECK_THAT(open.note, Catch::Contains("format " + today));
    CHECK(open.database->execAndGet("SELECT weight_kg FROM part").getDouble() == 1.5);
    CHECK_THROWS(open.database->exec("UPDATE part SET weight_kg = 2"));
    CHECK(bytes_of(file) == before);
    CHECK(files_beside(file) == 0);
}

TEST_CASE("A newer book can be read with a note and is not changed", "[book]") {
    const ScratchFolder scratch;
    const fs::path file = made_book(scratch);
    sqlite3_of(file, "PRAGMA user_version = 99");
    const std::string before = bytes_of(file);
    const Book b = Book::open(scratch / "petrel", Access::read, "find");
    CHECK_THAT(b.opening_note(), Catch::Contains("format 99, newer than this stripbook's " + today));
    CHECK(book::all_parts(b).size() == 1);
    CHECK_THAT(message_of<BookError>([&] { Book::open(scratch / "petrel", Access::write, "dump", 0); }),
               Catch::Contains("only the newer stripbook may change it"));
    CHECK(bytes_of(file) == before);
}

namespace {

// Every table has the columns that a new book has, whatever way it got them.
void check_same_tables(const fs::path& upgraded, const fs::path& made_new) {
    const std::string columns =
        "SELECT m.name, c.name, c.type, c.[notnull], c.dflt_value, c.pk FROM sqlite_schema AS m JOIN "
        "pragma_table_info(m.name) AS c ORDER BY 1, 2";
    CHECK(sqlite3_of(upgraded, columns) == sqlite3_of(made_new, columns));
    const std::string indexes = "SELECT name FROM sqlite_schema WHERE type <> 'table' ORDER BY 1";
    CHECK(sqlite3_of(upgraded, indexes) == sqlite3_of(made_new, indexes));
}

// A folder with the book.db that the program of that format wrote.
fs::path old_book(const ScratchFolder& scratch, const std::string& format) {
    fs::path folder = scratch / "petrel";
    fs::create_directories(folder);
    fs::copy_file(source_folder() / ("tests/book/old_books/format-" + format + ".db"), folder / "book.db");
    return folder;
}

}  // namespace

TEST_CASE("A book of format 1 comes up to this format with everything in it", "[book]") {
    const ScratchFolder scratch;
    const fs::path folder = old_book(scratch, "1");
    const Book b = Book::open(folder, Access::write, "test");
    CHECK_THAT(b.opening_note(), Catch::Contains("upgraded from format 1 to " + today));
    // What the format-1 program was given: the parts list and the small card of sample_images.
    CHECK(book::all_parts(b).size() == 6);
    CHECK(book::all_photos(b).size() == 2);
    CHECK(book::all_photos(b).front().read_by == 0);
    CHECK(b.title() == "Inspection railcar Petrel");
    new_book(scratch / "new");
    check_same_tables(folder / "book.db", scratch / "new" / "book.db");
}

TEST_CASE("A note that was listed as parent keeps its text under another heading, and can be saved",
          "[book]") {
    const ScratchFolder scratch;
    const fs::path folder = old_book(scratch, "3");
    sqlite3_of(folder / "book.db",
               "UPDATE part SET notes = json_object('Parent', 'the axlebox', 'drawing', 'FV-1') WHERE name = "
               "'Axlebox cover'");
    Book b = Book::open(folder, Access::write, "test");
    auto part = book::find_part(b, tag(417)).value();
    CHECK(part.notes ==
          std::map<std::string, std::string>{{"drawing", "FV-1"}, {"parent as listed", "the axlebox"}});
    part.storage = "Rack C";
    CHECK_NOTHROW(book::save_part(b, part, "Ana", "test"));
}

TEST_CASE("A book of format 4 comes up to this format with everything in it", "[book]") {
    const ScratchFolder scratch;
    const fs::path folder = old_book(scratch, "4");
    const std::string kept =
        "SELECT words FROM inspection; SELECT tag, path, why FROM part_path; SELECT work FROM work; SELECT "
        "tag, kind, mass_kg FROM hazard; SELECT words FROM refit_note; SELECT count(*) FROM act; SELECT "
        "photo, tag FROM program_link; SELECT photo, belongs FROM person_word; SELECT what, field, after "
        "FROM history";
    const std::string before = sqlite3_of(folder / "book.db", kept);
    CHECK_THAT(before, Catch::Contains("crack, lower lug") && Catch::Contains("bush and ream"));
    const Book b = Book::open(folder, Access::write, "test");
    CHECK_THAT(b.opening_note(), Catch::Contains("upgraded from format 4 to " + today));
    CHECK(sqlite3_of(folder / "book.db", kept) == before);
    new_book(scratch / "new");
    check_same_tables(folder / "book.db", scratch / "new" / "book.db");
}

TEST_CASE("A book of format 3 comes up to this format with everything in it", "[book]") {
    const ScratchFolder scratch;
    const fs::path folder = old_book(scratch, "3");
    const std::string kept =
        "SELECT count(*) FROM measurement; SELECT count(*) FROM dimension; SELECT count(*) FROM "
        "program_link; "
        "SELECT tag, name, notes, other_tag FROM part; SELECT number, time_text, stage_by_person FROM photo; "
        "SELECT photo, tag, belongs FROM person_word; SELECT what, field, after FROM history";
    const std::string before = sqlite3_of(folder / "book.db", kept);
    CHECK_THAT(before, Catch::Contains("PET-00417-D|Axlebox cover"));
    const Book b = Book::open(folder, Access::write, "test");
    CHECK_THAT(b.opening_note(), Catch::Contains("upgraded from format 3 to " + today));
    CHECK(sqlite3_of(folder / "book.db", kept) == before);
    new_book(scratch / "new");
    check_same_tables(folder / "book.db", scratch / "new" / "book.db");
}
