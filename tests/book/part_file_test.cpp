#include "book/part_file.h"

#include "book/links.h"
#include "book/sightings.h"
#include "errors.h"
#include "sample_book.h"

using namespace stripbook;
using namespace stripbook::test;

TEST_CASE("A part's file gathers its photos in the order they were taken, with their stages", "[book]") {
    const ScratchFolder scratch;
    book::Book b = new_book(scratch / "petrel");
    const auto dump = book::begin_dump(b, "/media/card", "Ana");
    // p1 is the latest, p2 and p3 the first and at the same second, p4 on the bench, p5 another part's.
    const double minutes[] = {90, 0, 0, 60, 10};
    for (int i = 1; i <= 5; ++i) {
        add_photo(b, dump, i, minutes[i - 1]);
    }
    book::Part part(tag(417));
    part.name = "Fuel tap";
    book::save_part(b, part, "Ana", "edit");
    for (const int photo : {1, 2, 3, 4}) {
        book::link_by_person(b, {photo}, tag(417), "Ana");
    }
    book::Sighting marker;
    marker.kind = book::SightingKind::scale_marker;
    marker.text = "bench";
    book::save_sightings(b, {2}, {marker});  // only a suggestion
    marker.confirmed = true;
    book::save_sightings(b, {4}, {marker});
    book::set_stage(b, {3}, "cleaned", "Ana");
    const auto file = book::gather_part(b, tag(417));
    CHECK(file.part.name == "Fuel tap");
    REQUIRE(file.photos.size() == 4);
    CHECK(file.photos[0].photo.number.value == 2);
    // Of the second in which p3 shows it cleaned: that it is as removed is not certain.
    CHECK(file.photos[0].stage.empty());
    CHECK_FALSE(file.photos[0].on_bench);
    CHECK_FALSE(file.photos[0].stage_by_person);
    CHECK(file.photos[1].photo.number.value == 3);
    CHECK(file.photos[1].stage == "cleaned");
    CHECK(file.photos[1].stage_by_person);
    CHECK(file.photos[2].photo.number.value == 4);
    CHECK(file.photos[2].on_bench);
    CHECK(file.photos[2].stage.empty());
    CHECK(file.photos[3].photo.number.value == 1);
    CHECK(file.photos[3].stage.empty());
    CHECK(file.photos[3].link.by_person);
    REQUIRE(file.history.size() == 2);
    CHECK(file.history[1].field == "name");
    CHECK_THROWS_AS(book::gather_part(b, tag(1)), WrongUse);
}

TEST_CASE("Without a bench shot so far, every photo is as-removed", "[book]") {
    const ScratchFolder scratch;
    book::Book b = new_book(scratch / "petrel");
    add_photo(b, book::begin_dump(b, "/media/card", "Ana"), 1);
    book::add_seen_part(b, tag(417), {1}, "stripbook");
    book::link_by_person(b, {1}, tag(417), "Ana");
    CHECK(book::gather_part(b, tag(417)).photos.at(0).stage == "as-removed");
}
