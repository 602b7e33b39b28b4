#include "book/history.h"

#include "book/life.h"

#include "sample_book.h"

using namespace stripbook;
using namespace stripbook::test;

TEST_CASE("The history is kept in order, with who, when and how", "[book]") {
    const ScratchFolder scratch;
    book::Book b = new_book(scratch / "petrel");
    const std::string before = output_of("date -u +%Y-%m-%dT%H:%M:%SZ");
    book::note_change(b, "Ana\x1b[31m", "p12", "link", "", "PET-00417-D", "first");
    book::note_change(b, "Ben", "p12", "link", "PET-00417-D", "", "second");
    book::note_change(b, "Ben", "p13", "link", "", "PET-00417-D", "other photo");
    const std::string after = output_of("date -u +%Y-%m-%dT%H:%M:%SZ");
    const auto changes = book::history_of(b, "p12");
    REQUIRE(changes.size() == 2);
    CHECK(changes[0].who == "Ana\\x1B[31m");
    CHECK(changes[0].after == "PET-00417-D");
    CHECK(changes[1].how == "second");
    CHECK(changes[0].at >= before);
    CHECK(changes[0].at <= after);
}

TEST_CASE("The database itself refuses to lose history", "[book]") {
    const ScratchFolder scratch;
    {
        book::Book b = new_book(scratch / "petrel");
        book::note_change(b, "Ana", "p12", "link", "", "PET-00417-D", "first");
    }
    const auto file = scratch / "petrel" / "book.db";
    CHECK_THAT(output_of("sqlite3 \"" + file.string() + "\" 'DELETE FROM history' 2>&1 || true"),
               Catch::Contains("nothing is deleted from the history"));
    CHECK_THAT(output_of("sqlite3 \"" + file.string() + "\" 'UPDATE history SET who = 1' 2>&1 || true"),
               Catch::Contains("nothing is changed in the history"));
    CHECK(sqlite3_of(file, "SELECT who, what FROM history") == "Ana|p12");
}

TEST_CASE("A measurement is told by its first dimensions, not as one long line", "[book]") {
    const auto told = [](const std::string& after) {
        return book::sentence_of(
            {"2026-11-25T09:00:00Z", "stripbook", "PET-00417-D", "dimensions in p9", "", after, "measure"});
    };
    CHECK(told("length 193.18 mm (U 0.41)") == "measured in p9: length 193.18 mm (U 0.41)");
    CHECK(told("length 1 mm (U 0.1); width 2 mm (U 0.1)") ==
          "measured in p9: length 1 mm (U 0.1); width 2 mm (U 0.1)");
    CHECK(told("length 1 mm (U 0.1); width 2 mm (U 0.1); area 3 mm2 (U 1); hole 4 mm (U 0.1)") ==
          "measured in p9: length 1 mm (U 0.1); width 2 mm (U 0.1); and 2 more");
}
