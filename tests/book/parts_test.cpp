#include "book/parts.h"

#include <cmath>
#include <limits>

#include "book/history.h"
#include "errors.h"
#include "sample_book.h"

using namespace stripbook;
using namespace stripbook::test;
using book::Part;

TEST_CASE("A part seen on a tag becomes a record once", "[book]") {
    const ScratchFolder scratch;
    book::Book b = new_book(scratch / "petrel");
    CHECK(book::add_seen_part(b, tag(417), {12}, "stripbook"));
    CHECK_FALSE(book::add_seen_part(b, tag(417), {13}, "stripbook"));
    const auto part = book::find_part(b, tag(417));
    REQUIRE(part);
    CHECK(part->name.empty());
    CHECK(part->path == "undecided");
    CHECK_FALSE(part->listed);
    const auto history = book::history_of(b, "PET-00417-D");
    REQUIRE(history.size() == 1);
    CHECK(history[0].how == "tag seen in p12");
    CHECK(history[0].who == "stripbook");
    CHECK_FALSE(book::find_part(b, tag(418)));
}

TEST_CASE("Every field of a part is kept, and the history says what it was before", "[book]") {
    const ScratchFolder scratch;
    book::Book b = new_book(scratch / "petrel");
    Part part(tag(417));
    part.name = "Fuel tap <b>\"main\"</b> صنبور";
    part.assembly = "Fuel";
    part.place = "under the left tank";
    part.storage = "shelf 4";
    part.quantity_expected = 2;
    part.quantity_present = 1;
    part.face_height_mm = 84.1375;
    part.condition = "seized\nthread torn";
    part.path = "repair";
    part.notes = {{"maker's number", "B 17"}, {"weight", "0,4 kg"}};
    part.listed = true;
    book::save_part(b, part, "Ana", "edit");
    CHECK(book::find_part(b, tag(417)) == part);
    const std::size_t entries = book::history_of(b, "PET-00417-D").size();
    book::save_part(b, part, "Ana", "edit");
    CHECK(book::history_of(b, "PET-00417-D").size() == entries);  // nothing changed, nothing noted
    part.storage = "shelf 5";
    part.quantity_expected.reset();
    part.notes.erase("weight");
    book::save_part(b, part, "Ben", "edit");
    CHECK(book::find_part(b, tag(417)) == part);
    CHECK(sqlite3_of(scratch / "petrel" / "book.db",
                     "SELECT who, field, before, after FROM history WHERE who = 'Ben' ORDER BY id") ==
          "Ben|storage|shelf 4|shelf 5\nBen|quantity expected|2|\nBen|weight|0,4 kg|");
    CHECK(sqlite3_of(scratch / "petrel" / "book.db",
                     "SELECT tag, path, face_height_mm, quantity_expected FROM part") ==
          "PET-00417-D|repair|84.1375|");
}

TEST_CASE("Parts come by tag number", "[book]") {
    const ScratchFolder scratch;
    book::Book b = new_book(scratch / "petrel");
    for (const int serial : {20000, 3, 99999, 417}) {
        book::save_part(b, Part(tag(serial)), "Ana", "edit");
    }
    std::vector<int> serials;
    for (const auto& part : book::all_parts(b)) {
        serials.push_back(part.tag.serial());
    }
    CHECK(serials == std::vector<int>{3, 417, 20000, 99999});
}

TEST_CASE("A part that the book must not hold is refused whole", "[book]") {
    const ScratchFolder scratch;
    book::Book b = new_book(scratch / "petrel");
    const auto refused = [&](const auto& change) {
        Part part(tag(417));
        change(part);
        return message_of<WrongUse>([&] { book::save_part(b, part, "Ana", "edit"); });
    };
    CHECK_THAT(refused([](Part& p) { p.path = "throw away"; }), Catch::Contains("use again"));
    CHECK_THAT(refused([](Part& p) { p.name = "\xff"; }), Catch::Contains("PET-00417-D name"));
    CHECK_THAT(refused([](Part& p) { p.place = "a\x1b[2J"; }), Catch::Contains("control character"));
    CHECK_THAT(refused([](Part& p) { p.quantity_expected = -1; }), Catch::Contains("0 to 1000000"));
    CHECK_THAT(refused([](Part& p) { p.quantity_present = 1000001; }), Catch::Contains("0 to 1000000"));
    CHECK_THAT(refused([](Part& p) { p.face_height_mm = -0.5; }), Catch::Contains("face height"));
    CHECK_THAT(refused([](Part& p) { p.face_height_mm = std::nan(""); }), Catch::Contains("face height"));
    CHECK_THAT(refused([](Part& p) { p.notes["Name"] = "x"; }), Catch::Contains("heading"));
    CHECK_THAT(refused([](Part& p) { p.notes[" "] = "x"; }), Catch::Contains("heading"));
    CHECK_THAT(refused([](Part& p) {
                   p.notes["maker"] = "x";
                   p.notes["Maker"] = "y";
               }),
               Catch::Contains("twice"));
    const number::TagNumber other(number::BookCode::from_typed("OAK"), 417);
    CHECK_THAT(message_of<WrongUse>([&] { book::save_part(b, Part(other), "Ana", "edit"); }),
               Catch::Contains("belongs to book OAK"));
    CHECK_THROWS_AS(book::add_seen_part(b, other, {1}, "stripbook"), WrongUse);
    CHECK(book::all_parts(b).empty());
    CHECK(book::history_of(b, "PET-00417-D").empty());
}
