#include "book/acts.h"

#include <set>

#include "book/act_recording.h"
#include "book/hazards.h"
#include "book/sql_access.h"
#include "errors.h"
#include "sample_book.h"

using namespace stripbook;
using namespace stripbook::test;
using book::Book;

namespace {

void store(Book& book, int serial, const std::string& place) {
    auto part = book::find_part(book, tag(serial)).value_or(book::Part(tag(serial)));
    part.storage = place;
    book::save_part(book, part, "Ana", "store");
}

}  // namespace

TEST_CASE("Every table of people has a primary key, without which no change of it could be undone",
          "[book]") {
    const ScratchFolder scratch;
    const Book b = new_book(scratch / "petrel");
    book::Query tables(b,
                       "SELECT name, (SELECT count(*) FROM pragma_table_info(m.name) WHERE pk > 0) FROM "
                       "sqlite_schema AS m WHERE type = 'table'");
    std::set<std::string> of_people;
    while (tables.next()) {
        if (book::is_of_people(tables.text(0))) {
            of_people.insert(tables.text(0));
            INFO(tables.text(0));
            CHECK(tables.whole(1) > 0);
        }
    }
    for (const char* table : {"part",
                              "photo",
                              "person_word",
                              "photo_without_part",
                              "part_stage",
                              "setting",
                              "camera",
                              "clock_word",
                              "hazard",
                              "inspection",
                              "finding",
                              "gauge_reading",
                              "gauge_limit",
                              "part_path",
                              "work",
                              "line",
                              "bagged_fastener",
                              "refit_word",
                              "refitted",
                              "refit_note",
                              "unsettled_group_cut",
                              "measurement",
                              "dimension",
                              "marker_sheet",
                              "marker_check"}) {
        INFO(table);
        CHECK(of_people.count(table) == 1);
    }
}

TEST_CASE("One command is one act, also in several transactions, and what fails is none", "[book]") {
    const ScratchFolder scratch;
    Book b = new_book(scratch / "petrel");
    store(b, 1, "before any act");
    CHECK(book::acts(b).empty());
    b.begin_act("store 1 2 \"Rack A\"");
    store(b, 1, "Rack A");
    store(b, 2, "Rack A");
    CHECK_THROWS(b.together([&] {
        store(b, 1, "Rack X");
        throw WrongUse("no");
    }));
    b.begin_act("nothing new");
    store(b, 1, "Rack A");
    const auto acts = book::acts(b);
    REQUIRE(acts.size() == 1);
    CHECK(acts.front().command == "store 1 2 \"Rack A\"");
    CHECK(acts.front().who == "Ana");
    b.begin_act("");
    book::take_back(b, acts.front(), "Ben");
    CHECK(book::find_part(b, tag(1))->storage == "before any act");
    CHECK_FALSE(book::find_part(b, tag(2)));
    CHECK(book::acts(b).empty());
}

TEST_CASE("The newest fifty acts are kept", "[book]") {
    const ScratchFolder scratch;
    Book b = new_book(scratch / "petrel");
    for (int i = 0; i < book::most_acts + 5; ++i) {
        b.begin_act("store 1 " + std::to_string(i));
        store(b, 1, std::to_string(i));
    }
    const auto acts = book::acts(b);
    CHECK(acts.size() == static_cast<std::size_t>(book::most_acts));
    CHECK(acts.front().command == "store 1 54");
    CHECK(acts.back().command == "store 1 5");
}
