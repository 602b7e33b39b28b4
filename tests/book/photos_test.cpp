#include "book/photos.h"

#include <cmath>

#include "book/history.h"
#include "errors.h"
#include "sample_book.h"

using namespace stripbook;
using namespace stripbook::test;
using book::PhotoFacts;
using book::ReadState;

namespace {

PhotoFacts facts_of(const std::string& maker, const std::string& model, const std::string& serial) {
    PhotoFacts facts;
    facts.maker = maker;
    facts.model = model;
    facts.serial = serial;
    facts.width_px = 6000;
    facts.height_px = 4000;
    return facts;
}

}  // namespace

TEST_CASE("The facts of a photo are kept", "[book]") {
    const ScratchFolder scratch;
    book::Book b = new_book(scratch / "petrel");
    const auto dump = book::begin_dump(b, "/media/card", "Ana");
    const auto number = add_photo(b, dump, 1);
    PhotoFacts facts = facts_of("Ferrow", "FV-20", "A10442");
    facts.exif_time = book::CaptureTime{1773997095.83, "2026-03-20T08:58:15.83", "+01:00", "EXIF"};
    facts.orientation = 6;
    facts.focal_length_mm = 35.5;
    facts.focal_length_35_mm = std::nan("");
    facts.read_note = "made by \x1b[31m";
    book::save_photo_facts(b, number, facts);
    const auto photo = *book::find_photo(b, number);
    CHECK(photo.camera_words == "Ferrow FV-20 A10442");
    CHECK(photo.camera_time.text == "2026-03-20T08:58:15.83");
    CHECK(photo.camera_time.utc_offset == "+01:00");
    CHECK(photo.camera_time.source == "EXIF");
    CHECK(photo.corrected_seconds == 1773997095.83);
    CHECK(photo.width_px == 6000);
    CHECK(photo.height_px == 4000);
    CHECK(photo.orientation == 6);
    CHECK(photo.focal_length_mm == 35.5);
    CHECK_FALSE(photo.focal_length_35_mm);
    CHECK(photo.read_state == ReadState::read);
    CHECK(photo.read_note == "made by \\x1B[31m");
    // Read again, and no time is found this time: the card's file time stands in.
    facts.exif_time.reset();
    book::save_photo_facts(b, number, facts);
    CHECK(book::find_photo(b, number)->camera_time.source == "file time");
    CHECK(book::find_photo(b, number)->camera_time.text == "2026-03-20T09:00:00");
    CHECK_THROWS_AS(book::save_photo_facts(b, {99}, facts), BookError);
}

TEST_CASE("A camera is known by its serial, and without one by its card", "[book]") {
    const ScratchFolder scratch;
    book::Book b = new_book(scratch / "petrel");
    const auto first_card = book::begin_dump(b, "/media/ONE/", "Ana");
    const auto second_card = book::begin_dump(b, "/media/TWO", "Ana");
    const auto camera_of = [&](book::DumpId dump, int number, const PhotoFacts& facts) {
        const auto photo = add_photo(b, dump, number);
        book::save_photo_facts(b, photo, facts);
        return *book::find_photo(b, photo);
    };
    const auto with_serial = camera_of(first_card, 1, facts_of("Ferrow", "FV-20", "A1"));
    CHECK(camera_of(second_card, 2, facts_of("Ferrow", "FV-20", "A1")).camera == with_serial.camera);
    CHECK(camera_of(first_card, 3, facts_of("Ferrow", "FV-20", "A2")).camera != with_serial.camera);
    const auto no_serial = camera_of(first_card, 4, facts_of("Ferrow", "Ferrow FV-20", ""));
    CHECK(no_serial.camera_words == "Ferrow FV-20");
    CHECK(camera_of(first_card, 5, facts_of("Ferrow", "Ferrow FV-20", "")).camera == no_serial.camera);
    CHECK(camera_of(second_card, 6, facts_of("Ferrow", "Ferrow FV-20", "")).camera != no_serial.camera);
    CHECK(camera_of(first_card, 7, facts_of("", "", "")).camera_words == "camera of card ONE");
    CHECK(camera_of(second_card, 8, facts_of("", "", "")).camera_words == "camera of card TWO");
    // Before it is read, a photo is told by its card too.
    CHECK(book::find_photo(b, add_photo(b, first_card, 9))->camera_words == "camera of card ONE");
}

TEST_CASE("The camera's offset corrects the time, and what the camera said stays", "[book]") {
    const ScratchFolder scratch;
    book::Book b = new_book(scratch / "petrel");
    const auto photo = add_photo(b, book::begin_dump(b, "/media/card", "Ana"), 1);
    book::save_photo_facts(b, photo, facts_of("Ferrow", "FV-20", "A1"));
    sqlite3_of(scratch / "petrel" / "book.db", "UPDATE camera SET offset_s = 3600.5");
    CHECK(book::find_photo(b, photo)->corrected_seconds ==
          book::find_photo(b, photo)->camera_time.seconds - 3600.5);
}

TEST_CASE("Photos to read are those that no one looked at, videos too", "[book]") {
    const ScratchFolder scratch;
    book::Book b = new_book(scratch / "petrel");
    const auto dump = book::begin_dump(b, "/media/card", "Ana");
    for (int i = 1; i <= 3; ++i) {
        add_photo(b, dump, i);
    }
    book::add_original(b, dump, {"FVA_0002.MP4", 1, 0}, sum_of(4), book::FileKind::video,
                       "photos/0001/FVA_0002.MP4");
    PhotoFacts facts;
    book::save_photo_facts(b, {1}, facts);
    facts.read_state = ReadState::damaged;
    book::save_photo_facts(b, {3}, facts);
    const auto to_read = book::photos_to_read(b);
    REQUIRE(to_read.size() == 2);
    CHECK(to_read[0].number.value == 2);
    CHECK(to_read[1].number.value == 4);
    CHECK(book::poster_file(b, {4}) == scratch / "petrel" / "derived/posters/p4.jpg");
    CHECK(book::all_photos(b).size() == 4);
    CHECK(book::find_photo(b, {3})->read_state == ReadState::damaged);
}

TEST_CASE("A photo number is typed with or without p", "[book]") {
    const ScratchFolder scratch;
    book::Book b = new_book(scratch / "petrel");
    CHECK_THAT(message_of<WrongUse>([&] { book::photo_from_typed(b, "p1"); }),
               Catch::Contains("no card was dumped"));
    add_photo(b, book::begin_dump(b, "/media/card", "Ana"), 1);
    for (const char* text : {"p1", "P1", "1", " p001 "}) {
        CHECK(book::photo_from_typed(b, text).value == 1);
    }
    for (const char* text : {"", "p", "x1", "p-1", "1.0", "p0", "99999999999999999999", "p1;", "pp1"}) {
        CHECK_THAT(message_of<WrongUse>([&] { book::photo_from_typed(b, text); }),
                   Catch::Contains("is not a photo number"));
    }
    CHECK(message_of<WrongUse>([&] { book::photo_from_typed(b, "p7"); }) ==
          "the book has no photo p7: its photos are p1 to p1");
}

TEST_CASE("A person's word on the stage of a photo is kept and can be taken back", "[book]") {
    const ScratchFolder scratch;
    book::Book b = new_book(scratch / "petrel");
    const auto photo = add_photo(b, book::begin_dump(b, "/media/card", "Ana"), 1);
    book::set_stage(b, photo, "blasted", "Ana");
    book::set_stage(b, photo, "blasted", "Ana");
    CHECK(book::find_photo(b, photo)->stage_by_person == "blasted");
    book::set_stage(b, photo, "", "Ben");
    CHECK_FALSE(book::find_photo(b, photo)->stage_by_person);
    const auto history = book::history_of(b, "p1");
    REQUIRE(history.size() == 2);
    CHECK(history[1].before == "blasted");
    CHECK(history[1].who == "Ben");
    CHECK_THAT(message_of<WrongUse>([&] { book::set_stage(b, photo, "polished", "Ana"); }),
               Catch::Contains("as-removed, cleaned"));
    CHECK_THROWS_AS(book::set_stage(b, {9}, "blasted", "Ana"), WrongUse);
}
