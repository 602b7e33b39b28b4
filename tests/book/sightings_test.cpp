#include "book/sightings.h"

#include <limits>

#include "errors.h"
#include "sample_book.h"

using namespace stripbook;
using namespace stripbook::test;
using book::Sighting;
using book::SightingKind;

TEST_CASE("Sightings come back as they were saved, and are replaced photo by photo", "[book]") {
    const ScratchFolder scratch;
    book::Book b = new_book(scratch / "petrel");
    const auto dump = book::begin_dump(b, "/media/card", "Ana");
    const auto first = add_photo(b, dump, 1);
    const auto second = add_photo(b, dump, 2);
    Sighting tag_seen;
    tag_seen.kind = SightingKind::tag;
    tag_seen.text = "PET-00417-D";
    tag_seen.confirmed = true;
    tag_seen.how = "QR code and 4 fiducials";
    tag_seen.by_qr = true;
    tag_seen.fiducials = 4;
    tag_seen.corners_px = {{{0.5, -1.25}, {100, 0}, {100, 50}, {1e-3, 50}}};
    Sighting doubtful;
    doubtful.kind = SightingKind::other_code;
    doubtful.text = "http://\x1b[31m";
    doubtful.doubt = "two fiducials only";
    doubtful.suggestions = {"PET-00418-B", "\xff"};
    book::save_sightings(b, first, {tag_seen, doubtful});
    book::save_sightings(b, second, {doubtful});
    const auto seen = book::sightings_of(b, first);
    REQUIRE(seen.size() == 2);
    CHECK(seen[0].kind == SightingKind::tag);
    CHECK(seen[0].text == "PET-00417-D");
    CHECK(seen[0].confirmed);
    CHECK(seen[0].how == "QR code and 4 fiducials");
    CHECK(seen[0].by_qr);
    CHECK(seen[0].fiducials == 4);
    CHECK(seen[0].corners_px[0].x == 0.5);
    CHECK(seen[0].corners_px[0].y == -1.25);
    CHECK(seen[0].corners_px[3].x == 1e-3);
    CHECK(seen[1].text == "http://\\x1B[31m");
    CHECK(seen[1].doubt == "two fiducials only");
    CHECK(seen[1].suggestions == std::vector<std::string>{"PET-00418-B", "\\xFF"});
    CHECK_FALSE(seen[1].confirmed);
    CHECK(book::all_sightings(b).size() == 2);
    book::save_sightings(b, first, {});
    CHECK(book::sightings_of(b, first).empty());
    CHECK(book::all_sightings(b).at(second).size() == 1);
}

TEST_CASE("A sighting with a corner that is no number is refused and the old ones stay", "[book]") {
    const ScratchFolder scratch;
    book::Book b = new_book(scratch / "petrel");
    const auto photo = add_photo(b, book::begin_dump(b, "/media/card", "Ana"), 1);
    book::save_sightings(b, photo, {Sighting{}});
    Sighting broken;
    broken.corners_px[2].y = std::numeric_limits<double>::quiet_NaN();
    CHECK_THROWS_AS(book::save_sightings(b, photo, {Sighting{}, broken}), BookError);
    CHECK(book::sightings_of(b, photo).size() == 1);
    CHECK_THROWS_AS(book::save_sightings(b, {99}, {Sighting{}}), BookError);
}
