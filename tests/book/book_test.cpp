#include "book/book.h"

#include <sys/stat.h>

#include "book/history.h"
#include "book/settings.h"
#include "errors.h"
#include "sample_book.h"

using namespace stripbook;
using namespace stripbook::test;
using book::Access;
using book::Book;
namespace fs = std::filesystem;

TEST_CASE("A new book holds its folders and says what it is", "[book]") {
    const ScratchFolder scratch;
    {
        const Book made = new_book(scratch / "petrel");
        CHECK(made.code() == pet());
        CHECK(made.title() == "Inspection railcar Petrel");
        CHECK(made.folder() == scratch / "petrel");
        CHECK(made.opening_note().empty());
    }
    for (const char* name : {"photos", "photos/.incoming", "derived", "reports"}) {
        CHECK(fs::is_directory(scratch / "petrel" / name));
    }
    const fs::path file = scratch / "petrel" / "book.db";
    CHECK(sqlite3_of(
              file,
              "PRAGMA application_id; PRAGMA user_version; PRAGMA integrity_check; PRAGMA journal_mode") ==
          "1400128107\n5\nok\ndelete");
    CHECK(sqlite3_of(file, "SELECT code, title, started_by FROM book") ==
          "PET|Inspection railcar Petrel|Ana");
    CHECK(Book::open(scratch / "petrel", Access::read, "test").code() == pet());
    CHECK(Book::open(scratch / "petrel", Access::write, "test").title() == "Inspection railcar Petrel");
    CHECK_FALSE(fs::exists(scratch / "petrel" / "book.db.new"));
}

TEST_CASE("A book is not started where something lies already", "[book]") {
    const ScratchFolder scratch;
    new_book(scratch / "petrel");
    CHECK_THAT(message_of<WrongUse>([&] { new_book(scratch / "petrel"); }),
               Catch::Contains("is a job book already"));
    fs::create_directory(scratch / "full");
    write_file(scratch / "full" / "letter.txt", "hello");
    CHECK_THAT(message_of<WrongUse>([&] { new_book(scratch / "full"); }), Catch::Contains("letter.txt"));
    CHECK_FALSE(fs::exists(scratch / "full" / "book.db"));
    write_file(scratch / "file", "hello");
    CHECK_THROWS_AS(new_book(scratch / "file"), WrongUse);
    CHECK_THROWS_AS(Book::start(scratch / "bad", pet(), "\xff", "Ana"), WrongUse);
    CHECK_THROWS_AS(Book::start(scratch / "bad", pet(), "two\x1blines", "Ana"), WrongUse);
    CHECK_FALSE(fs::exists(scratch / "bad"));
}

TEST_CASE("A start that was killed is finished by running it again", "[book]") {
    const ScratchFolder scratch;
    fs::create_directories(scratch / "petrel" / "photos" / ".incoming");
    write_file(scratch / "petrel" / "book.lock", "");
    write_file(scratch / "petrel" / "book.db.new", "SQLite format 3");
    write_file(scratch / "petrel" / "book.db.new-journal", "half");
    CHECK(new_book(scratch / "petrel").code() == pet());
    CHECK(sqlite3_of(scratch / "petrel" / "book.db", "PRAGMA integrity_check") == "ok");
}

TEST_CASE("What is no job book is named as such", "[book]") {
    const ScratchFolder scratch;
    const auto opening = [&](Access access) {
        return message_of<BookError>([&] { Book::open(scratch.path(), access, "test"); });
    };
    for (const Access access : {Access::read, Access::write}) {
        CHECK_THAT(opening(access), Catch::Contains("is not a job book"));
        fs::create_directory(scratch / "book.db");
        CHECK_THAT(opening(access), Catch::Contains("is not a job book"));
        fs::remove(scratch / "book.db");
        REQUIRE(mkfifo((scratch / "book.db").c_str(), 0600) == 0);
        CHECK_THAT(opening(access), Catch::Contains("is not a job book"));
        fs::remove(scratch / "book.db");
        for (const std::string& bytes : {std::string(), std::string("hello"), std::string(5000, 'x')}) {
            write_file(scratch / "book.db", bytes);
            CHECK_THAT(opening(access), Catch::Contains("is not a job book"));
            CHECK(bytes_of(scratch / "book.db") == bytes);
            fs::remove(scratch / "book.db");
        }
        sqlite3_of(scratch / "book.db", "CREATE TABLE other (a)");
        CHECK_THAT(opening(access), Catch::Contains("is not a job book"));
        fs::remove(scratch / "book.db");
    }
}

TEST_CASE("A damaged book is named as damaged", "[book]") {
    const ScratchFolder scratch;
    new_book(scratch.path() / "petrel");
    const fs::path file = scratch / "petrel" / "book.db";
    std::string bytes = bytes_of(file);
    // The first hundred bytes are SQLite's header; behind them stands the list of tables.
    std::fill(bytes.begin() + 100, bytes.end(), '\x55');
    write_file(file, bytes);
    for (const Access access : {Access::read, Access::write}) {
        CHECK_THAT(message_of<BookError>([&] { Book::open(scratch / "petrel", access, "test"); }),
                   Catch::Contains("damaged"));
    }
}

TEST_CASE("The book is found from any folder inside it", "[book]") {
    const ScratchFolder scratch;
    new_book(scratch / "petrel");
    CHECK(Book::find(scratch / "petrel") == scratch / "petrel");
    CHECK(Book::find(scratch / "petrel/") == scratch / "petrel");
    CHECK(Book::find(scratch / "petrel/photos/.incoming") == scratch / "petrel");
    CHECK(Book::find(scratch / "petrel/reports/../derived") == scratch / "petrel");
    CHECK_FALSE(Book::find(scratch.path()));
    CHECK_FALSE(Book::find(scratch / "not there"));
}

TEST_CASE("Changes made together are all kept or none", "[book]") {
    const ScratchFolder scratch;
    Book b = new_book(scratch / "petrel");
    const auto note = [&](const std::string& what) {
        book::note_change(b, "Ana", what, "name", "", "x", "test");
    };
    const auto kept = [&](const std::string& what) { return !book::history_of(b, what).empty(); };
    CHECK_THROWS_AS(b.together([&] {
        note("first");
        throw WrongUse("stop");
    }),
                    WrongUse);
    CHECK_FALSE(kept("first"));
    b.together([&] {
        note("outer");
        CHECK_THROWS_AS(b.together([&] {
            note("inner");
            throw WrongUse("stop");
        }),
                        WrongUse);
        b.together([&] { note("second inner"); });
    });
    CHECK(kept("outer"));
    CHECK_FALSE(kept("inner"));
    CHECK(kept("second inner"));
    CHECK_THROWS_AS(b.together([&] {
        b.together([&] { note("third inner"); });
        throw WrongUse("stop");
    }),
                    WrongUse);
    CHECK_FALSE(kept("third inner"));
}

TEST_CASE("A book opened for reading takes no change", "[book]") {
    const ScratchFolder scratch;
    new_book(scratch / "petrel");
    Book b = Book::open(scratch / "petrel", Access::read, "test");
    CHECK_THAT(message_of<BookError>([&] { book::set_setting(b, "units", "inch", "Ana"); }),
               Catch::Contains("can only be read"));
    int seen = 0;
    b.together([&] { seen = static_cast<int>(book::all_settings(b).size()); });
    CHECK(seen == 7);
}

TEST_CASE("A folder that was moved is the same book", "[book]") {
    const ScratchFolder scratch;
    new_book(scratch / "petrel");
    fs::rename(scratch / "petrel", scratch / "moved");
    CHECK(Book::open(scratch / "moved", Access::write, "test").code() == pet());
}
