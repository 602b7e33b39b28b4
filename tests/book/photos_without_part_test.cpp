#include "book/photos_without_part.h"

#include "book/links.h"
#include "errors.h"
#include "sample_book.h"

using namespace stripbook;
using namespace stripbook::test;

TEST_CASE("That a photo belongs to no part is a person's word that can be taken back", "[book]") {
    const ScratchFolder scratch;
    book::Book b = new_book(scratch / "petrel");
    add_photo(b, book::begin_dump(b, "/media/card", "Ana"), 1);
    book::save_part(b, book::Part(tag(417)), "Ana", "edit");
    book::link_by_person(b, {1}, tag(417), "Ana");
    book::say_without_part(b, {1}, "Ben");
    book::say_without_part(b, {1}, "Ben");
    CHECK(book::photos_without_part(b) == std::set<book::PhotoNumber>{{1}});
    CHECK(book::all_links(b).empty());
    CHECK(book::all_refusals(b).empty());
    book::take_back_without_part(b, {1}, "Ana");
    book::take_back_without_part(b, {1}, "Ana");
    CHECK(book::photos_without_part(b).empty());
    CHECK_THROWS_AS(book::say_without_part(b, {99}, "Ana"), WrongUse);
    CHECK(sqlite3_of(scratch / "petrel" / "book.db",
                     "SELECT who, before, after FROM history WHERE what = 'p1' ORDER BY id") ==
          "Ana||PET-00417-D\nBen|PET-00417-D|\nBen||no part\nAna|no part|");
}

TEST_CASE("Linking a photo takes back that it belongs to no part", "[book]") {
    const ScratchFolder scratch;
    book::Book b = new_book(scratch / "petrel");
    add_photo(b, book::begin_dump(b, "/media/card", "Ana"), 1);
    book::save_part(b, book::Part(tag(417)), "Ana", "edit");
    book::say_without_part(b, {1}, "Ana");
    book::unlink_by_person(b, {1}, tag(417), "Ana");
    CHECK(book::photos_without_part(b).size() == 1);
    book::link_by_person(b, {1}, tag(417), "Ana");
    CHECK(book::photos_without_part(b).empty());
    CHECK(book::all_links(b).size() == 1);
    book::take_back_link(b, {1}, tag(417), "Ana");
    CHECK(book::all_links(b).empty());
    CHECK(book::all_refusals(b).empty());
}
