#include "link/clocks.h"

#include <catch2/catch.hpp>
#include <chrono>
#include <cmath>
#include <random>

#include "clock_day.h"

using namespace stripbook;
using namespace stripbook::test;
using link::true_times;
using link::Zone;

namespace {

const Zone utc_zone(0.0);

Zone berlin() {
    return Zone(std::string("Europe/Berlin"));
}

}  // namespace

TEST_CASE("The time in a clock shot is RFC 3339, and its own example comes out right", "[link]") {
    // RFC 3339, section 5.8: 1996-12-19T16:39:57-08:00 is 1996-12-20T00:39:57Z.
    CHECK(link::utc_of_clock_shot("TIME 1996-12-19T16:39:57-08:00") == at("1996-12-20 00:39:57"));
    CHECK(link::utc_of_clock_shot("TIME 1996-12-20T00:39:57Z") == at("1996-12-20 00:39:57"));
    CHECK(link::utc_of_clock_shot("TIME 1985-04-12T23:20:50.52Z") == at("1985-04-12 23:20:50"));
    for (const char* wrong :
         {"TIME", "TIME ", "TIME 2026-03-20T08:58:15", "TIME 2026-02-30T08:58:15Z",
          "TIME 2026-03-20T24:58:15Z", "TIME 2026-03-20 08:58:15Z", "TIME 2026-03-20T08:58:15Zx",
          "PET-00417-D", "TIME 2026-03-20T08:58:15+99:00"}) {
        INFO(wrong);
        CHECK_FALSE(link::utc_of_clock_shot(wrong));
    }
}

TEST_CASE("A clock shot fixes its camera's clock for the photos around it", "[link]") {
    Taking camera(1);
    const auto before = camera.photo("2026-03-20 09:00:00");
    camera.clock_shot(at("2026-03-20 09:05:18"), at("2026-03-20 08:58:15"));  // 7:03 ahead
    const auto after = camera.photo("2026-03-20 17:00:00");
    const auto clocks = true_times({camera.evidence}, utc_zone);
    REQUIRE(clocks.pieces.size() == 1);
    CHECK(*clocks.pieces[0].ahead_s == Approx(423).margin(0.01));
    CHECK(*time_of(clocks, before).utc_s == Approx(at("2026-03-20 08:52:57")).margin(0.01));
    CHECK(time_of(clocks, before).corrected_s == Approx(at("2026-03-20 08:52:57")).margin(0.01));
    CHECK_THAT(time_of(clocks, before).how, Catch::Contains("clock shot p2"));
    // A quartz clock may drift by 2 s a day: after eight hours two thirds of a second more.
    CHECK(*time_of(clocks, before).u_s < 0.6);
    CHECK(*time_of(clocks, after).u_s == Approx(std::hypot(0.5, 2.0 * 7.91 / 24)).margin(0.05));
}

TEST_CASE("Two clock shots days apart give the drift, and the uncertainty covers the truth", "[link]") {
    // 3 s a day fast, 20 s ahead at the start: the camera's clock by arithmetic of its own.
    const double began = at("2026-03-20 08:00");
    const auto shown = [&](double true_s) { return std::floor(true_s + 20 + (true_s - began) / day_s * 3); };
    Taking camera(1);
    camera.clock_shot(shown(began), began);
    const double middle = began + 5.3 * day_s;
    const auto between = camera.photo(shown(middle));
    camera.clock_shot(shown(began + 10 * day_s), began + 10 * day_s);
    const double late = began + 30 * day_s;
    const auto beyond = camera.photo(shown(late));
    const auto clocks = true_times({camera.evidence}, utc_zone);
    REQUIRE(clocks.pieces.size() == 1);
    CHECK(*clocks.pieces[0].drift_s_per_day == Approx(3).margin(0.15));
    CHECK(std::abs(*time_of(clocks, between).utc_s - middle) < 1.0);
    CHECK(std::abs(*time_of(clocks, beyond).utc_s - late) < 3 * *time_of(clocks, beyond).u_s);
    CHECK(*time_of(clocks, beyond).u_s > *time_of(clocks, between).u_s);
}

TEST_CASE("A person's word beats a clock shot, and the difference is told", "[link]") {
    Taking camera(1);
    camera.clock_shot(at("2026-03-20 09:05:00"), at("2026-03-20 09:00:00"));
    const auto photo = camera.photo("2026-03-20 09:10:00");
    book::ClockWord word;
    word.ahead_s = 120;
    word.photo = photo;
    word.who = "Ana";
    camera.evidence.words = {word};
    const auto clocks = true_times({camera.evidence}, utc_zone);
    CHECK(*time_of(clocks, photo).utc_s == at("2026-03-20 09:08:00"));
    CHECK_THAT(time_of(clocks, photo).how,
               Catch::Contains("Ana's word") && Catch::Contains("clock shot p1 says 5:00 ahead"));
}

TEST_CASE("A picture of the time that stood still does not count twice", "[link]") {
    Taking camera(1);
    const double shown_utc = at("2026-03-20 09:00:00");
    camera.clock_shot(at("2026-03-20 09:00:10"), shown_utc);
    camera.clock_shot(at("2026-03-20 09:30:10"), shown_utc);  // half an hour later, the same picture
    const auto photo = camera.photo("2026-03-20 09:40:00");
    CHECK(*time_of(true_times({camera.evidence}, utc_zone), photo).utc_s ==
          Approx(at("2026-03-20 09:39:50")).margin(0.01));
    // Shown to two cameras at different moments, it tells neither to the second.
    Taking other(2, 100);
    other.clock_shot(at("2026-03-20 09:00:40"), shown_utc);
    const auto clocks = true_times({camera.evidence, other.evidence}, utc_zone);
    CHECK(*time_of(clocks, photo).u_s >= 30);
}

TEST_CASE("EXIF offsets tell the zone: true time follows, and the workshop's time with it", "[link]") {
    Taking phone(1);
    phone.offset = "+01:00";
    const auto winter = phone.photo("2026-03-28 12:00:00");
    phone.offset = "+02:00";
    const auto summer = phone.photo("2026-03-30 12:00:00");
    const auto clocks = true_times({phone.evidence}, berlin());
    CHECK(*time_of(clocks, winter).utc_s == at("2026-03-28 11:00:00"));
    CHECK(*time_of(clocks, summer).utc_s == at("2026-03-30 10:00:00"));
    CHECK(time_of(clocks, summer).corrected_s == at("2026-03-30 12:00:00"));
    CHECK(clocks.pieces.size() == 1);
    CHECK(*time_of(clocks, summer).u_s == 600);  // nobody checked the clock itself
}

TEST_CASE("A camera set back by itself in the night of 2026-10-25 keeps its order and its time", "[link]") {
    // Berlin: 03:00 summer time becomes 02:00 at 01:00 UTC. London: 02:00 becomes 01:00 at the same moment.
    const int local_hours_before = GENERATE(2, 1);
    const bool in_berlin = local_hours_before == 2;
    const Zone zone(std::string(in_berlin ? "Europe/Berlin" : "Europe/London"));
    const std::string hour = in_berlin ? "2026-10-25 02:" : "2026-10-25 01:";
    Taking camera(1);
    const auto first = camera.photo(hour + "50:00");
    const auto second = camera.photo(hour + "05:00");
    const auto third = camera.photo(hour + "55:00");
    const auto clocks = true_times({camera.evidence}, zone);
    CHECK(*time_of(clocks, first).utc_s == at("2026-10-25 00:50"));
    CHECK(*time_of(clocks, second).utc_s == at("2026-10-25 01:05"));
    CHECK(*time_of(clocks, third).utc_s == at("2026-10-25 01:55"));
    CHECK_THAT(time_of(clocks, second).how, Catch::Contains("put back for winter time"));
}

TEST_CASE("A phone with offsets crosses both changes without a jump", "[link]") {
    Taking phone(1);
    phone.offset = "+02:00";
    const auto before = phone.photo("2026-10-25 02:50:00");
    phone.offset = "+01:00";
    const auto after = phone.photo("2026-10-25 02:05:00");
    const auto clocks = true_times({phone.evidence}, berlin());
    CHECK(clocks.pieces.size() == 1);
    CHECK(*time_of(clocks, before).utc_s == at("2026-10-25 00:50"));
    CHECK(*time_of(clocks, after).utc_s == at("2026-10-25 01:05"));
}

TEST_CASE("A camera put back by hand on the Monday after had shown summer time until then", "[link]") {
    Taking camera(1);
    const auto saturday = camera.photo("2026-10-24 10:00:00");
    const auto monday = camera.photo("2026-10-26 10:40:00");
    const auto put_back = camera.photo("2026-10-26 09:45:00");
    const auto clocks = true_times({camera.evidence}, berlin());
    CHECK(*time_of(clocks, saturday).utc_s == at("2026-10-24 08:00"));
    CHECK(*time_of(clocks, monday).utc_s == at("2026-10-26 08:40"));
    CHECK(*time_of(clocks, put_back).utc_s == at("2026-10-26 08:45"));
    CHECK(clocks.pieces.size() == 1);
}

TEST_CASE("A camera that shows the skipped hour of 2026-03-29 was not put forward", "[link]") {
    Taking camera(1);
    camera.photo("2026-03-29 01:50:00");
    const auto skipped = camera.photo("2026-03-29 02:20:00");
    const auto still = camera.photo("2026-03-29 03:10:00");
    const auto later = camera.photo("2026-03-29 09:00:00");
    const auto clocks = true_times({camera.evidence}, berlin());
    CHECK(*time_of(clocks, skipped).utc_s == at("2026-03-29 01:20"));
    CHECK(*time_of(clocks, still).utc_s == at("2026-03-29 02:10"));
    CHECK(*time_of(clocks, later).utc_s == at("2026-03-29 07:00"));  // time enough to have been put forward
    CHECK(*time_of(clocks, later).u_s >= 3600);                      // or not: that is not known
    const Zone london(std::string("Europe/London"));
    Taking other(1);
    const auto british = other.photo("2026-03-29 01:20:00");
    CHECK(*time_of(true_times({other.evidence}, london), british).utc_s == at("2026-03-29 01:20"));
}

TEST_CASE("A clock shot of winter says nothing sure about a clock in summer", "[link]") {
    Taking camera(1);
    camera.clock_shot(at("2026-03-27 12:00:00"), at("2026-03-27 11:00:00"));
    const auto winter = camera.photo("2026-03-28 12:00:00");
    const auto summer = camera.photo("2026-03-30 12:00:00");
    const auto clocks = true_times({camera.evidence}, berlin());
    CHECK(*time_of(clocks, winter).u_s < 5);
    CHECK(*time_of(clocks, summer).u_s >= 3600);
    CHECK_THAT(time_of(clocks, summer).how, Catch::Contains("summer time is not known"));
}

TEST_CASE("After a reset to 2015 the time is not known, and the order is kept", "[link]") {
    Taking camera(1);
    camera.photo("2026-03-20 09:00:00");
    const auto last_good = camera.photo("2026-03-20 09:05:00");
    const auto reset = camera.photo("2015-01-01 00:00:40");
    const auto reset_2 = camera.photo("2015-01-01 00:07:00");
    const auto set_again = camera.photo("2026-03-20 10:30:00");
    auto clocks = true_times({camera.evidence}, utc_zone);
    CHECK(clocks.pieces.size() == 3);
    CHECK_FALSE(time_of(clocks, reset).utc_s);
    CHECK_THAT(time_of(clocks, reset).how,
               Catch::Contains("not known") && Catch::Contains("after p2") && Catch::Contains("before p5"));
    CHECK(time_of(clocks, last_good).corrected_s < time_of(clocks, reset).corrected_s);
    CHECK(time_of(clocks, reset_2).corrected_s - time_of(clocks, reset).corrected_s == Approx(380));
    CHECK(time_of(clocks, reset_2).corrected_s < time_of(clocks, set_again).corrected_s);
    CHECK(*time_of(clocks, set_again).utc_s == at("2026-03-20 10:30"));
    // A clock shot after the reset gives the piece its own clock.
    camera.evidence.shots = {{reset_2, at("2026-03-20 09:47:00")}};
    clocks = true_times({camera.evidence}, utc_zone);
    CHECK(*time_of(clocks, reset).utc_s == Approx(at("2026-03-20 09:40:40")).margin(0.01));
    CHECK(*time_of(clocks, set_again).u_s == 3600);
}

TEST_CASE("A card that begins after a reset is told when the clock was set later", "[link]") {
    Taking camera(1);
    const auto reset = camera.photo("2015-01-01 00:03:00");
    const auto set_again = camera.photo("2026-03-20 10:30:00");
    const auto clocks = true_times({camera.evidence}, utc_zone);
    CHECK_FALSE(time_of(clocks, reset).utc_s);
    CHECK(time_of(clocks, reset).corrected_s < time_of(clocks, set_again).corrected_s);
}

TEST_CASE("A short card with summer time put back, a reset and a clock set again keeps all three apart",
          "[link]") {
    Taking camera(1);
    const auto saturday = camera.photo("2026-10-24 10:00:00");
    camera.photo("2026-10-26 10:40:00");
    camera.photo("2026-10-26 09:45:00");  // put back by hand
    camera.photo("2026-10-26 09:50:00");
    const auto reset = camera.photo("2015-01-01 00:00:40");
    const auto reset_2 = camera.photo("2015-01-01 00:07:00");
    const auto set_again = camera.photo("2026-10-26 11:00:00");
    camera.photo("2026-10-26 11:05:00");
    camera.photo("2026-10-26 11:10:00");
    const auto clocks = true_times({camera.evidence}, berlin());
    CHECK(*time_of(clocks, saturday).utc_s == at("2026-10-24 08:00"));
    CHECK_FALSE(time_of(clocks, reset).utc_s);
    CHECK_FALSE(time_of(clocks, reset_2).utc_s);
    CHECK(*time_of(clocks, set_again).utc_s == at("2026-10-26 10:00"));
    CHECK(time_of(clocks, saturday).corrected_s < time_of(clocks, reset).corrected_s);
    CHECK(time_of(clocks, reset_2).corrected_s < time_of(clocks, set_again).corrected_s);
}

TEST_CASE("Without a counter, photos of the first days of a January years ago have no true time", "[link]") {
    Taking camera(1);
    const auto reset = camera.photo("2015-01-01 00:00:40");
    const auto reset_2 = camera.photo("2015-01-01 00:07:00");
    const auto good = camera.photo("2026-10-26 11:00:00");
    for (auto& photo : camera.evidence.photos) {
        photo.dcf_counter = 0;
        photo.dcf_directory = 0;
    }
    const auto clocks = true_times({camera.evidence}, berlin());
    CHECK_FALSE(time_of(clocks, reset).utc_s);
    CHECK_FALSE(time_of(clocks, reset_2).utc_s);
    CHECK(*time_of(clocks, good).utc_s == at("2026-10-26 10:00"));
}

TEST_CASE("A clock that was set right between two clock shots is parted at the longest pause", "[link]") {
    Taking camera(1);
    camera.clock_shot(at("2026-03-20 08:55:00"), at("2026-03-20 09:02:00"));  // 7 min behind
    const auto morning = camera.photo("2026-03-20 09:30:00");
    const auto next_day = camera.photo("2026-03-21 09:00:00");
    camera.clock_shot(at("2026-03-21 09:10:00"), at("2026-03-21 09:10:00"));
    const auto after = camera.photo("2026-03-21 09:20:00");
    const auto clocks = true_times({camera.evidence}, utc_zone);
    REQUIRE(clocks.pieces.size() == 2);
    CHECK(*time_of(clocks, morning).utc_s == Approx(at("2026-03-20 09:37:00")).margin(1));
    CHECK(*time_of(clocks, morning).u_s >= 420);
    CHECK(*time_of(clocks, next_day).utc_s == Approx(at("2026-03-21 09:00:00")).margin(1));
    CHECK(*time_of(clocks, after).u_s < 1);
}

namespace {

// Two cameras on the same parts for a day, the second `wrong_s` ahead and up to `lag_s` apart.
std::vector<link::CameraEvidence> two_cameras(double wrong_s, double lag_s, int parts, unsigned seed) {
    std::mt19937 dice(seed);
    std::uniform_real_distribution<double> lag(-lag_s, lag_s);
    std::uniform_real_distribution<double> pause(240, 1200);
    Taking a(1);
    Taking b(2, 5000);
    double now = at("2026-03-20 08:00");
    for (int part = 0; part < parts; ++part) {
        const std::string tag = "part " + std::to_string(part);
        a.tag(std::floor(now), tag);
        b.tag(std::floor(now + lag(dice) + wrong_s), tag);
        now += pause(dice);
    }
    a.clock_shot(std::floor(now) + 60, std::floor(now) + 60);
    return {a.evidence, b.evidence};
}

}  // namespace

TEST_CASE("A clock is learned from tags that another camera saw in the same minutes", "[link]") {
    int within_two = 0;
    constexpr int days = 40;
    for (unsigned seed = 1; seed <= days; ++seed) {
        const double wrong_s = seed % 2 == 0 ? 440 : -3540;
        const auto clocks = true_times(two_cameras(wrong_s, 90, 12, seed), utc_zone);
        const auto& piece = clocks.pieces.back();
        REQUIRE(piece.camera == book::CameraId{2});
        INFO(seed << ": " << *piece.ahead_s << " +- " << *piece.u_s);
        CHECK(*piece.u_s < 150);
        CHECK(std::abs(*piece.ahead_s - wrong_s) < 3 * *piece.u_s);
        within_two += std::abs(*piece.ahead_s - wrong_s) < 2 * *piece.u_s ? 1 : 0;
    }
    CHECK(within_two >= 38);
}

TEST_CASE("Tags seen at other hours, or too few, tell nothing about a clock", "[link]") {
    std::mt19937 dice(7);
    std::uniform_real_distribution<double> any(0, 9 * hour_s);
    int guessed = 0;
    for (int day = 0; day < 100; ++day) {
        Taking a(1);
        Taking b(2, 5000);
        std::vector<double> seen_a;
        std::vector<double> seen_b;
        for (int part = 0; part < 30; ++part) {
            a.tag(at("2026-03-20 08:00") + std::floor(any(dice)), "part " + std::to_string(part));
            b.tag(at("2026-03-20 08:00") + std::floor(any(dice)), "part " + std::to_string(part));
        }
        for (auto* camera : {&a, &b}) {  // taken one after the other, so that the counters rise with the time
            auto& photos = camera->evidence.photos;
            std::sort(photos.begin(), photos.end(), [](const auto& x, const auto& y) {
                return x.camera_time.seconds < y.camera_time.seconds;
            });
            int counter = 0;
            for (auto& photo : photos) {
                photo.dcf_counter = ++counter;
            }
        }
        a.clock_shot(at("2026-03-20 18:00"), at("2026-03-20 18:00"));
        const auto clocks = true_times({a.evidence, b.evidence}, utc_zone);
        guessed += *clocks.pieces.back().u_s < 3600 ? 1 : 0;
    }
    CHECK(guessed == 0);
    CHECK(*true_times(two_cameras(440, 60, 3, 1), utc_zone).pieces.back().u_s == 3600);
}

TEST_CASE("Where nobody checked a clock, cameras are set by one another but none is called exact", "[link]") {
    auto cameras = two_cameras(440, 60, 14, 3);
    cameras[0].shots.clear();
    const auto clocks = true_times(cameras, utc_zone);
    CHECK(*clocks.pieces.back().ahead_s == Approx(440).margin(60));
    CHECK(*clocks.pieces.back().u_s >= 3600);
    CHECK_THAT(clocks.pieces.back().how, Catch::Contains("no clock was checked"));
    // A difference that may be nothing is left alone.
    auto agreeing = two_cameras(10, 60, 14, 3);
    agreeing[0].shots.clear();
    CHECK(*true_times(agreeing, utc_zone).pieces.back().ahead_s == 0);
}

TEST_CASE("The order of cameras, photos and shots makes no difference", "[link]") {
    auto cameras = two_cameras(440, 60, 20, 5);
    const auto first = true_times(cameras, utc_zone);
    std::mt19937 dice(11);
    for (int round = 0; round < 5; ++round) {
        std::shuffle(cameras.begin(), cameras.end(), dice);
        for (auto& camera : cameras) {
            std::shuffle(camera.photos.begin(), camera.photos.end(), dice);
            std::shuffle(camera.tags.begin(), camera.tags.end(), dice);
        }
        const auto again = true_times(cameras, utc_zone);
        CHECK(again.times == first.times);
        CHECK(again.pieces == first.pieces);
    }
}

TEST_CASE("Photos without an EXIF time stand by the counter, or by their file time, and say so", "[link]") {
    Taking camera(1);
    camera.clock_shot(at("2026-03-20 10:00:00"), at("2026-03-20 09:59:00"));
    const auto untimed = camera.photo("2026-03-20 10:04:00");
    camera.photo("2026-03-20 10:08:00");
    auto& photo = camera.evidence.photos[1];
    photo.camera_time = {photo.file_time_s, "", "", "file time"};
    auto clocks = true_times({camera.evidence}, utc_zone);
    CHECK_THAT(time_of(clocks, untimed).how, Catch::Contains("file counter"));
    CHECK(std::abs(*time_of(clocks, untimed).utc_s - at("2026-03-20 10:03:00")) <=
          *time_of(clocks, untimed).u_s * 2);
    // Without a counter: the card's file times go with the clock, so they tell it.
    photo.dcf_counter = 0;
    clocks = true_times({camera.evidence}, utc_zone);
    CHECK_THAT(time_of(clocks, untimed).how, Catch::Contains("its file time"));
    CHECK(*time_of(clocks, untimed).utc_s == Approx(at("2026-03-20 10:03:00")).margin(0.01));
    // Alone, a file time is UTC as far as anybody knows, and the zone is not sure.
    camera.evidence.photos = {photo};
    camera.evidence.shots.clear();
    clocks = true_times({camera.evidence}, berlin());
    CHECK(*time_of(clocks, untimed).utc_s == at("2026-03-20 10:04:00"));
    CHECK(*time_of(clocks, untimed).u_s >= 3600);
}

TEST_CASE("A hundred thousand photos are re-timed in seconds", "[link]") {
    std::vector<link::CameraEvidence> cameras;
    for (int c = 0; c < 4; ++c) {
        Taking camera(c + 1, 1 + c * 25000);
        double now = at("2026-01-05 08:00");
        for (int i = 0; i < 25000; ++i) {
            now += i % 500 == 499 ? 57000 : 40;
            camera.directory = 100 + i / 9999;
            camera.counter = i % 9999;
            if (i % 10 == 0) {
                camera.tag(now + 100.0 * c, "part " + std::to_string(i / 10));
            } else {
                camera.photo(now + 100.0 * c);
            }
        }
        cameras.push_back(camera.evidence);
    }
    cameras[0].shots.push_back({cameras[0].photos[0].number, cameras[0].photos[0].camera_time.seconds});
    const auto began = std::chrono::steady_clock::now();
    const auto clocks = true_times(cameras, berlin());
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - began;
    CHECK(clocks.times.size() == 100000);
    WARN("100,000 photos of 4 cameras timed in " << took.count() << " s");
    CHECK(took.count() < 10);
}
