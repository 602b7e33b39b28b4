#include "book/hazards.h"

#include "book/history.h"
#include "book/part_file.h"
#include "errors.h"
#include "sample_book.h"

using namespace stripbook;
using namespace stripbook::test;

namespace {

struct Tapped {
    ScratchFolder scratch;
    book::Book b = new_book(scratch / "petrel");
    Tapped() { book::save_part(b, book::Part(tag(417)), "Ana", "test"); }
};

}  // namespace

TEST_CASE("A hazard is set, changed and taken back, and the history keeps each step", "[book]") {
    Tapped t;
    book::set_hazard(t.b, tag(417), {"sharp", std::nullopt, ""}, "Ana");
    book::set_hazard(t.b, tag(417), {"heavy", 180, "lift at both lugs"}, "Ana");
    book::set_hazard(t.b, tag(417), {"heavy", 180, "lift at both lugs"}, "Ben");  // says nothing new
    book::set_hazard(t.b, tag(417), {"heavy", 192.5, ""}, "Ben");
    const auto hazards = book::gather_part(t.b, tag(417)).hazards;
    REQUIRE(hazards.size() == 2);
    CHECK(hazards[0].kind == "heavy");  // in the order of the kinds
    CHECK(hazards[0].mass_kg == 192.5);
    CHECK(hazards[0].who == "Ben");
    CHECK(sqlite3_of(t.scratch / "petrel" / "book.db",
                     "SELECT tag, kind, mass_kg, note FROM hazard ORDER BY kind") ==
          "PET-00417-D|heavy|192.5|\nPET-00417-D|sharp||");
    book::take_back_hazard(t.b, tag(417), "heavy", "Ana");
    CHECK(book::hazards_of(t.b, tag(417)).size() == 1);
    const auto history = book::history_of(t.b, "PET-00417-D");
    REQUIRE(history.size() == 5);
    CHECK(history[2].after == "180 kg: lift at both lugs");
    CHECK(history[3].before == "180 kg: lift at both lugs");
    CHECK(history[3].after == "192.5 kg");
    CHECK(history[4].field == "hazard heavy");
    CHECK(history[4].after.empty());
}

TEST_CASE("What cannot be a hazard is named", "[book]") {
    Tapped t;
    CHECK_THAT(message_of<WrongUse>([] { book::hazard_kind_from_typed("hot"); }),
               Catch::Contains("\"hot\" is not a hazard") && Catch::Contains("lead paint"));
    CHECK_THAT(message_of<WrongUse>([&] {
                   book::set_hazard(t.b, tag(418), {"sharp", {}, ""}, "Ana");
               }),
               Catch::Contains("no part PET-00418"));
    CHECK_THAT(message_of<WrongUse>([&] {
                   book::set_hazard(t.b, tag(417), {"sharp", 3, ""}, "Ana");
               }),
               Catch::Contains("a mass belongs to the hazard heavy"));
    CHECK_THAT(message_of<WrongUse>([&] {
                   book::set_hazard(t.b, tag(417), {"heavy", 0, ""}, "Ana");
               }),
               Catch::Contains("0 kg will not do"));
    CHECK_THAT(message_of<WrongUse>([&] { book::take_back_hazard(t.b, tag(417), "sharp", "Ana"); }),
               Catch::Contains("has no hazard \"sharp\""));
    CHECK(book::hazard_kind_from_typed(" Spring ") == "under load");
    CHECK(book::hazard_kind_from_typed("oil") == "fuel or oil");
}

TEST_CASE("Every hazard brings its caution, and local codes come first", "[book]") {
    std::vector<book::Hazard> hazards;
    for (const char* kind : book::hazard_kinds) {
        hazards.push_back({kind, std::nullopt, ""});
    }
    hazards[0].mass_kg = 180;
    hazards[0].note = "lift at both lugs";
    const auto lines = book::cautions_for(hazards);
    REQUIRE(lines.size() == hazards.size() + 1);
    CHECK_THAT(lines[0], Catch::StartsWith("Heavy, 180 kg: lift at both lugs. Plan the lift"));
    CHECK_THAT(lines[1], Catch::StartsWith("Under load: let spring"));
    CHECK_THAT(lines.back(), Catch::Contains("Local codes and licensed practice"));
    CHECK(book::cautions_for(std::vector<book::Hazard>{}).empty());
}
