#include "book/refit_order.h"

#include "book/hazards.h"
#include "book/history.h"
#include "book/links.h"
#include "book/refit_needs.h"
#include "book/sightings.h"
#include "errors.h"
#include "sample_book.h"

using namespace stripbook;
using namespace stripbook::test;

namespace {

// Parts 1 to `count`.
book::Book book_with_parts(const std::filesystem::path& folder, int count) {
    auto b = new_book(folder);
    for (int i = 1; i <= count; ++i) {
        book::save_part(b, book::Part(tag(i)), "Ana", "test");
    }
    return b;
}

std::string order_history(const book::Book& b, int serial) {
    std::string text;
    for (const auto& change : book::history_of(b, tag(serial).text())) {
        if (change.field == "refit order" || change.field == "stage") {
            text += change.who + ": " + change.field + " [" + change.before + "] [" + change.after + "]\n";
        }
    }
    return text;
}

}  // namespace

TEST_CASE("A part came off when its first as-removed photo was taken", "[book]") {
    const ScratchFolder scratch;
    auto b = book_with_parts(scratch / "petrel", 4);
    const auto dump = book::begin_dump(b, "card", "Ana");
    const auto late = add_photo(b, dump, 1, 30);
    const auto early = add_photo(b, dump, 2, 10);
    const auto bench = add_photo(b, dump, 3, 5);
    book::link_by_person(b, late, tag(1), "Ana");
    book::link_by_person(b, early, tag(1), "Ana");
    // Part 2 was on the bench first: what came after is not as-removed, until a person says so.
    book::link_by_person(b, bench, tag(2), "Ana");
    book::link_by_person(b, late, tag(2), "Ana");
    book::Sighting marker;
    marker.kind = book::SightingKind::scale_marker;
    marker.text = "bench";
    marker.confirmed = true;
    book::save_sightings(b, bench, {marker});
    // Of part 3 a person said that its first photo shows it cleaned.
    book::link_by_person(b, early, tag(3), "Ana");
    book::set_stage(b, early, "cleaned", "Ana");
    book::link_by_person(b, late, tag(3), "Ana");

    auto removals = book::removals(b);
    REQUIRE(removals.size() == 4);
    CHECK(removals[0].photo == late);  // the earlier one is said to be cleaned
    CHECK(removals[1].seconds == std::nullopt);
    CHECK(removals[2].photo == late);
    CHECK(removals[3].seconds == std::nullopt);
    book::set_stage(b, early, "", "Ana");
    CHECK(book::removals(b)[0].photo == early);
    CHECK(book::removals(b)[0].seconds == 1773997200.0 + 600);  // date -u -d '2026-03-20 09:10' +%s
    book::set_stage(b, late, "as-removed", "Ana");
    CHECK(book::removals(b)[1].photo == late);
}

TEST_CASE("Words about the order are kept with who and when, and taken back with history", "[book]") {
    const ScratchFolder scratch;
    auto b = book_with_parts(scratch / "petrel", 4);
    book::say_before(b, tag(1), tag(2), "Ana");
    book::say_before(b, tag(1), tag(2), "Ben");  // said already
    book::say_together(b, {tag(4), tag(3), tag(1)}, "Cleo");
    const auto words = book::refit_words(b);
    REQUIRE(words.size() == 3);
    CHECK(words[0].kind == book::RefitWordKind::before);
    CHECK(words[0].first == tag(1));
    CHECK(words[0].second == tag(2));
    CHECK(words[0].who == "Ana");
    CHECK(words[0].at.size() == 20);
    CHECK(words[1].kind == book::RefitWordKind::together);
    CHECK(words[1].first == tag(3));
    CHECK(words[1].second == tag(4));
    CHECK(words[2].first == tag(1));
    CHECK(words[2].second == tag(3));

    book::say_before(b, tag(2), tag(1), "Dan");  // the contrary is kept too: the order names the circle
    CHECK(book::forget_words(b, tag(2), tag(1), "Eva").size() == 2);
    CHECK(book::refit_words(b).size() == 2);
    CHECK(order_history(b, 2) == "Ana: refit order [] [goes in after " + tag(1).text() +
                                     "]\nDan: refit order [] [goes in before " + tag(1).text() +
                                     "]\nEva: refit order [goes in after " + tag(1).text() +
                                     "] []\nEva: refit order [goes in before " + tag(1).text() + "] []\n");
    CHECK(sqlite3_of(scratch / "petrel" / "book.db", "SELECT count(*) FROM refit_word") == "2");
}

TEST_CASE("Words about no part, the same part or nothing said are refused", "[book]") {
    const ScratchFolder scratch;
    auto b = book_with_parts(scratch / "petrel", 3);
    CHECK_THAT(message_of<WrongUse>([&] { book::say_before(b, tag(1), tag(9), "Ana"); }),
               Catch::Contains("no part PET-00009"));
    CHECK_THAT(message_of<WrongUse>([&] { book::say_before(b, tag(1), tag(1), "Ana"); }),
               Catch::Contains("named twice"));
    CHECK_THAT(message_of<WrongUse>([&] { book::say_together(b, {tag(1)}, "Ana"); }),
               Catch::Contains("at least two"));
    CHECK_THAT(message_of<WrongUse>([&] {
                   book::say_together(b, {tag(1), tag(2), tag(9)}, "Ana");
               }),
               Catch::Contains("no part PET-00009"));
    CHECK_THAT(message_of<WrongUse>([&] { book::forget_words(b, tag(1), tag(2), "Ana"); }),
               Catch::Contains("nobody said anything") && Catch::Contains("refit list"));
    CHECK(book::refit_words(b).empty());  // the half of the refused word is not kept either
}

TEST_CASE("A part back in place is marked once, by whom and when, and can be taken out again", "[book]") {
    const ScratchFolder scratch;
    auto b = book_with_parts(scratch / "petrel", 3);
    CHECK(book::set_refitted(b, {tag(2), tag(1)}, true, "Ana").size() == 2);
    CHECK(book::set_refitted(b, {tag(2), tag(3)}, true, "Ben") == std::vector{tag(3)});
    const auto refitted = book::refitted_parts(b);
    REQUIRE(refitted.size() == 3);
    CHECK(refitted[1].tag == tag(2));
    CHECK(refitted[1].who == "Ana");
    CHECK(book::set_refitted(b, {tag(2)}, false, "Cleo").size() == 1);
    CHECK(book::set_refitted(b, {tag(2)}, false, "Cleo").empty());
    CHECK(book::refitted_parts(b).size() == 2);
    CHECK(order_history(b, 2) == "Ana: stage [] [refitted]\nCleo: stage [refitted] []\n");
    CHECK_THAT(message_of<WrongUse>([&] {
                   book::set_refitted(b, {tag(2), tag(9)}, true, "Ana");
               }),
               Catch::Contains("no part PET-00009"));
    CHECK(book::refitted_parts(b).size() == 2);
}

TEST_CASE("The record says whether a part is ready, what it was stripped from and what to be careful of",
          "[book]") {
    const ScratchFolder scratch;
    auto b = book_with_parts(scratch / "petrel", 2);
    book::Part part(tag(2));
    CHECK(book::path_open(b, part) == std::vector<std::string>{"undecided"});
    part.path = "use again";
    CHECK(book::path_open(b, part).empty());
    CHECK(book::goes_back_in(b, part));
    part.path = "scrap";
    CHECK_FALSE(book::goes_back_in(b, part));
    CHECK(book::parent_of(b, part) == std::nullopt);
    part.notes["parent as listed"] = "1";
    CHECK(book::parent_of(b, part) == tag(1));
    for (const char* wrong : {"2", "9", "the axlebox", "OAK-00001"}) {
        part.notes["parent as listed"] = wrong;
        CHECK(book::parent_of(b, part) == std::nullopt);
    }
    part.parent = tag(1);
    CHECK(book::parent_of(b, part) == tag(1));
    CHECK(book::cautions_of(b, part).empty());
    part.notes["cautions"] = "heavy: 38 kg; spring under load ;";
    CHECK(book::cautions_of(b, part) == std::vector<std::string>{"heavy: 38 kg", "spring under load"});
    book::set_hazard(b, tag(2), {"sharp", std::nullopt, ""}, "Ana");
    REQUIRE(book::cautions_of(b, part).size() == 3);
    CHECK_THAT(book::cautions_of(b, part)[0], Catch::StartsWith("Sharp: "));
}
