#include "book/marker_sheets.h"

#include "book/history.h"
#include "errors.h"
#include "sample_book.h"

using namespace stripbook;
using namespace stripbook::test;

TEST_CASE("Marker sheets are numbered in their kind and keep what was measured on them", "[book]") {
    const ScratchFolder scratch;
    auto b = new_book(scratch / "petrel");
    book::add_marker_sheets(b, "bench", 2, 1, "Ana");
    book::add_marker_sheets(b, "mat", 1, 15, "Ana");
    CHECK(book::add_marker_sheets(b, "bench", 1, 1, "Ana").front().number == 3);
    book::save_marker_check(b, "bench", 2, {99.7, 100.2, std::nullopt, number::caliper_u_mm}, "Ana");
    book::save_marker_check(b, "bench", 2, {99.8, 100.2, std::nullopt, number::caliper_u_mm}, "Ben");
    const number::OuterMeasured outer{832.5, 585.5, 832.7, 585.6, 1017.9, 1018.1};
    book::save_marker_check(b, "mat", 1, {119.9, 120.1, outer}, "Ben");

    const auto sheets = book::marker_sheets(b);
    REQUIRE(sheets.size() == 4);
    CHECK_FALSE(sheets[0].check);
    REQUIRE(sheets[1].check);
    CHECK(sheets[1].check->measured.across_mm == 99.8);
    CHECK(sheets[1].check->who == "Ben");
    REQUIRE(sheets[3].check);
    CHECK(sheets[3].check->measured.outer == outer);
    CHECK(sheets[3].pieces == 15);
    // The earlier measuring is still there, and the history has both.
    CHECK(sqlite3_of(scratch / "petrel" / "book.db",
                     "SELECT count(*) FROM marker_check WHERE kind = 'bench'") == "2");
    CHECK(book::history_of(b, "MARKER-BENCH-0002").size() == 3);
}

TEST_CASE("A sheet that is lost no longer counts as in use", "[book]") {
    const ScratchFolder scratch;
    auto b = new_book(scratch / "petrel");
    book::add_marker_sheets(b, "pocket", 1, 1, "Ana");
    book::retire_marker_sheet(b, "pocket", 1, "Ana");
    book::retire_marker_sheet(b, "pocket", 1, "Ana");
    CHECK(book::marker_sheets(b).front().retired);
    CHECK(book::history_of(b, "MARKER-POCKET-0001").size() == 2);
    CHECK(book::add_marker_sheets(b, "pocket", 1, 1, "Ana").front().number == 2);
    CHECK_THROWS_AS(book::retire_marker_sheet(b, "pocket", 9, "Ana"), BookError);
}

TEST_CASE("A sheet of another book can be entered, once", "[book]") {
    const ScratchFolder scratch;
    auto b = new_book(scratch / "petrel");
    book::add_foreign_sheet(b, "bench", 3, "Ana");
    CHECK_THROWS_AS(book::add_foreign_sheet(b, "bench", 3, "Ana"), WrongUse);
    const auto printed = book::add_marker_sheets(b, "bench", 1, 1, "Ana");
    CHECK(printed.front().number == 4);
    book::take_back_marker_sheets(b, printed);
    CHECK(book::marker_sheets(b).size() == 1);
}
