#include "book/cameras.h"

#include "book/history.h"
#include "errors.h"
#include "sample_book.h"

using namespace stripbook;
using namespace stripbook::test;
using book::CameraId;
using book::ClockPiece;
using book::ClockWord;
using book::TrueTime;

namespace {

// Photos 1 and 2 are camera 1's, photo 3 is camera 2's.
struct TwoCameras {
    TwoCameras() : b(new_book(scratch / "petrel")) {
        const auto dump = book::begin_dump(b, "/media/card", "Ana");
        for (int i = 1; i <= 3; ++i) {
            book::PhotoFacts facts;
            facts.maker = "Ferrow";
            facts.model = "FV-20";
            facts.serial = i < 3 ? "A1" : "A2";
            book::save_photo_facts(b, add_photo(b, dump, i, i), facts);
        }
    }
    [[nodiscard]] std::string sql(const std::string& text) const {
        return sqlite3_of(scratch / "petrel" / "book.db", text);
    }
    [[nodiscard]] std::string bytes() const { return bytes_of(scratch / "petrel" / "book.db"); }

    ScratchFolder scratch;
    book::Book b;
};

ClockWord word(std::int64_t camera, std::int64_t photo, double ahead_s) {
    ClockWord w;
    w.camera = {camera};
    w.photo = {photo};
    w.ahead_s = ahead_s;
    w.who = "Ana";
    return w;
}

}  // namespace

TEST_CASE("A camera has a person's name, told in front of its own words, and its history", "[book]") {
    TwoCameras t;
    book::name_camera(t.b, {2}, " Ana's camera ", "Ana");
    CHECK(book::all_cameras(t.b)[1].name == "Ana's camera");
    CHECK(book::camera_from_typed(t.b, "ana's CAMERA") == CameraId{2});
    CHECK(book::find_photo(t.b, {3})->camera_words == "Ana's camera (Ferrow FV-20 A2)");
    CHECK(book::find_photo(t.b, {1})->camera_words == "Ferrow FV-20 A1");
    const auto history = book::history_of(t.b, "camera 2");
    REQUIRE(history.size() == 1);
    CHECK(history[0].after == "Ana's camera");
    CHECK(history[0].who == "Ana");
    CHECK_THAT(message_of<WrongUse>([&] { book::name_camera(t.b, {1}, "ANA'S camera", "Ana"); }),
               Catch::Contains("camera 2 is called"));
    CHECK_THROWS_AS(book::name_camera(t.b, {1}, "7", "Ana"), WrongUse);
    CHECK_THROWS_AS(book::name_camera(t.b, {1}, "two\nlines", "Ana"), WrongUse);
    CHECK_THAT(message_of<WrongUse>([&] { book::camera_from_typed(t.b, "9"); }),
               Catch::Contains("no camera 9"));
    book::name_camera(t.b, {2}, "", "Ana");
    CHECK(book::all_cameras(t.b)[1].name.empty());
}

TEST_CASE("Two ids become one camera and two again, and nothing is lost", "[book]") {
    TwoCameras t;
    book::say_clock(t.b, word(2, 3, 60));
    const std::string before = t.sql("SELECT number, camera FROM photo");
    book::join_cameras(t.b, {2}, {1}, "Ana");
    CHECK(t.sql("SELECT number, camera FROM photo") == before);
    const auto cameras = book::all_cameras(t.b);
    REQUIRE(cameras.size() == 1);
    CHECK(cameras[0].photos == 3);
    CHECK(cameras[0].joined == std::vector<CameraId>{{2}});
    CHECK(book::find_photo(t.b, {3})->camera == CameraId{1});
    CHECK(book::camera_from_typed(t.b, "2") == CameraId{1});
    CHECK(book::clock_words(t.b).at(0).camera == CameraId{1});
    CHECK_THAT(message_of<WrongUse>([&] { book::join_cameras(t.b, {2}, {1}, "Ana"); }),
               Catch::Contains("one already"));
    CHECK_THROWS_AS(book::join_cameras(t.b, {1}, {2}, "Ana"), WrongUse);
    book::split_camera(t.b, {2}, "Ana");
    CHECK(book::all_cameras(t.b).size() == 2);
    CHECK(book::clock_words(t.b).at(0).camera == CameraId{2});
    CHECK(book::history_of(t.b, "camera 2").size() == 3);
    CHECK_THROWS_AS(book::split_camera(t.b, {2}, "Ana"), WrongUse);
}

TEST_CASE("A person's word on a clock is kept with its history, changed and taken back", "[book]") {
    TwoCameras t;
    book::say_clock(t.b, word(1, 1, 423));
    book::say_clock(t.b, word(1, 1, -40));
    book::say_clock(t.b, word(1, 2, -41));
    const auto words = book::clock_words(t.b);
    REQUIRE(words.size() == 2);
    CHECK(words[0].ahead_s == -40);
    CHECK(book::words_of(words[0]) == "0:40 behind, give or take 0:01");
    const auto history = book::history_of(t.b, "camera 1");
    REQUIRE(history.size() == 3);
    CHECK(history[1].before == "7:03 ahead, give or take 0:01 at p1");
    CHECK(history[1].after == "0:40 behind, give or take 0:01 at p1");
    CHECK(book::take_back_clock_words(t.b, {1}, "Ana") == 2);
    CHECK(book::clock_words(t.b).empty());
    CHECK(t.sql("SELECT count(*) FROM clock_word") == "3");
    CHECK_THAT(message_of<WrongUse>([&] { book::say_clock(t.b, word(2, 1, 5)); }),
               Catch::Contains("p1 is no photo of camera 2"));
}

TEST_CASE("True times are kept beside what the camera said, and only what differs is written", "[book]") {
    TwoCameras t;
    const double said = book::find_photo(t.b, {1})->camera_time.seconds;
    ClockPiece piece;
    piece.camera = {1};
    piece.first_photo = {1};
    piece.last_photo = {2};
    piece.ahead_s = 60;
    piece.u_s = 0.5;
    piece.how = "clock shot p1";
    std::vector<TrueTime> times{{{1}, said - 60, said - 3660, 0.5, "clock shot p1"},
                                {{2}, said, std::nullopt, std::nullopt, "time not known"}};
    CHECK(book::replace_clocks(t.b, {piece}, times, "stripbook") == 2);
    const auto photo = *book::find_photo(t.b, {1});
    CHECK(photo.camera_time.seconds == said);
    CHECK(photo.corrected_seconds == said - 60);
    CHECK(photo.utc_s == said - 3660);
    CHECK(photo.utc_u_s == 0.5);
    CHECK_FALSE(book::find_photo(t.b, {2})->utc_s);
    CHECK(book::find_photo(t.b, {2})->utc_how == "time not known");
    CHECK(book::clock_pieces(t.b) == std::vector{piece});
    CHECK(book::history_of(t.b, "camera 1").back().after == "1:00 ahead, give or take 0:01: clock shot p1");
    const std::string before = t.bytes();
    CHECK(book::replace_clocks(t.b, {piece}, times, "stripbook") == 0);
    CHECK(t.bytes() == before);
    times[0].utc_s = said - 3661;
    CHECK(book::replace_clocks(t.b, {piece}, times, "stripbook") == 1);
    // Read again, a photo may have another time: what was worked out before does not stand.
    book::PhotoFacts facts;
    facts.maker = "Ferrow";
    facts.model = "FV-20";
    facts.serial = "A1";
    facts.exif_time = book::CaptureTime{said + 5, "2026-03-20T09:01:05", "", "EXIF"};
    book::save_photo_facts(t.b, {1}, facts);
    CHECK(book::find_photo(t.b, {1})->corrected_seconds == said + 5);
    CHECK(book::replace_clocks(t.b, {}, {}, "stripbook") == 0);
    CHECK(t.sql("SELECT (SELECT count(*) FROM true_time) + (SELECT count(*) FROM clock_piece)") == "0");
}

TEST_CASE("Spans of time as people type and read them", "[book]") {
    CHECK(book::time_span_from("7:03") == 423);
    CHECK(book::time_span_from(" 1:00:00 ") == 3600);
    CHECK(book::time_span_from("40s") == 40);
    CHECK(book::time_span_from("90:00") == 5400);
    for (const char* wrong :
         {"", "7", "7:3", "7:60", "-7:03", "1:2:3:4", "7:03x", "7,5s", ":30", "99999:00"}) {
        INFO(wrong);
        CHECK_FALSE(book::time_span_from(wrong));
    }
    CHECK(book::time_span_words(423) == "7:03");
    CHECK(book::time_span_words(-3600) == "1:00:00");
    CHECK(book::time_span_words(2 * 86400 + 61) == "2 d 0:01:01");
}
