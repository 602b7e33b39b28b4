#include "link/capture_order.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <random>
#include <string>

using namespace stripbook;

namespace {

book::Photo taken(std::int64_t number, double seconds, int directory, int counter) {
    book::Photo p;
    p.number = book::PhotoNumber{number};
    p.camera_time.seconds = seconds;
    p.dcf_directory = directory;
    p.dcf_counter = counter;
    return p;
}

std::string order(const std::vector<book::Photo>& photos) {
    std::string text;
    for (const auto& p : link::in_capture_order(photos)) {
        text += (text.empty() ? "" : " ") + p.number.text();
    }
    return text;
}

}  // namespace

TEST_CASE("Time with sub-seconds rules, whatever the counter says", "[link]") {
    CHECK(order({taken(1, 10.83, 100, 5), taken(2, 10.07, 100, 9), taken(3, 9.99, 100, 1)}) == "p3 p2 p1");
}

TEST_CASE("Photos of one second go by their counter", "[link]") {
    CHECK(order({taken(1, 10, 100, 12), taken(2, 10, 100, 10), taken(3, 10, 100, 11)}) == "p2 p3 p1");
}

TEST_CASE("After 9999 comes 0001, in the next folder or in the same one", "[link]") {
    // CIPA DC-009: file numbers run from 0001 to 9999.
    CHECK(order({taken(1, 10, 102, 1), taken(2, 10, 101, 9999), taken(3, 10, 102, 2)}) == "p2 p1 p3");
    CHECK(order({taken(1, 10, 100, 1), taken(2, 10, 100, 9998), taken(3, 10, 100, 9999),
                 taken(4, 10, 100, 2)}) == "p2 p3 p1 p4");
}

TEST_CASE("Without time or counter the order of taking in stands", "[link]") {
    CHECK(order({taken(3, 10, 0, 0), taken(1, 10, 0, 0), taken(2, 10, 0, 0)}) == "p1 p2 p3");
    CHECK(order({}).empty());
}

namespace {

book::Photo named(std::int64_t number, double seconds, const std::string& name) {
    book::Photo p = taken(number, seconds, 0, 0);
    p.name_on_card = name;
    return p;
}

book::Photo untimed(std::int64_t number, double file_time_s, int counter, const std::string& name = "") {
    book::Photo p = taken(number, file_time_s, counter > 0 ? 100 : 0, counter);
    p.camera_time.source = "file time";
    p.file_time_s = file_time_s;
    p.name_on_card = name;
    return p;
}

std::vector<book::Photo> of_card(std::vector<book::Photo> photos, std::int64_t dump) {
    for (auto& p : photos) {
        p.dump = {dump};
    }
    return photos;
}

std::vector<book::Photo> together(std::vector<book::Photo> a, const std::vector<book::Photo>& b) {
    a.insert(a.end(), b.begin(), b.end());
    return a;
}

constexpr double hour = 3600;
constexpr double day = 86400;

}  // namespace

TEST_CASE("Where the counter goes on and the time goes back, the counter rules", "[link]") {
    CHECK(order({taken(1, 9 * hour, 100, 1), taken(2, 10 * hour, 100, 2), taken(3, 9.2 * hour, 100, 3),
                 taken(4, 9.5 * hour, 100, 4)}) == "p1 p2 p3 p4");
    // Across the roll-over (CIPA DC-009), and from one card to the next where the counting goes on.
    CHECK(order({taken(1, 10 * hour, 101, 9998), taken(2, 10.1 * hour, 101, 9999),
                 taken(3, 9.2 * hour, 102, 1)}) == "p1 p2 p3");
    CHECK(order(together(of_card({taken(3, 9.2 * hour, 100, 3), taken(4, 9.5 * hour, 100, 4)}, 1),
                         of_card({taken(1, 9 * hour, 100, 1), taken(2, 10 * hour, 100, 2)}, 2))) ==
          "p1 p2 p3 p4");
}

TEST_CASE("Counters that restart on every card say nothing about the clock", "[link]") {
    const auto monday = of_card({taken(1, day, 100, 50), taken(2, day + 60, 100, 51)}, 1);
    const auto tuesday = of_card({taken(3, 2 * day, 100, 1), taken(4, 2 * day + 60, 100, 2)}, 2);
    CHECK(order(together(monday, tuesday)) == "p1 p2 p3 p4");
    CHECK(order(together(tuesday, monday)) == "p1 p2 p3 p4");
    CHECK(link::capture_order(together(monday, tuesday)).jumps.empty());
    const auto same_numbers = of_card({taken(5, 3 * day, 100, 1), taken(6, 3 * day + 60, 100, 2)}, 3);
    CHECK(order(together(same_numbers, tuesday)) == "p3 p4 p5 p6");
}

TEST_CASE("A person who goes to and fro between folders makes no jump", "[link]") {
    CHECK(order({taken(1, 100, 100, 1), taken(2, 200, 105, 2), taken(3, 300, 100, 3),
                 taken(4, 400, 105, 4)}) == "p1 p2 p3 p4");
}

TEST_CASE("A copy that the camera made later keeps its original's time and makes no jump", "[link]") {
    std::vector<book::Photo> photos;
    for (int i = 1; i <= 60; ++i) {
        photos.push_back(taken(i, 60.0 * i, 100, i));
    }
    photos[49].camera_time.seconds = 60.0 * 5;  // p50 is a trimmed p5
    const auto found = link::capture_order(photos);
    CHECK(found.jumps.empty());
    CHECK(found.order[5] == 49);
}

TEST_CASE("Renamed files go by their time, then by file time, then by names read as people do", "[link]") {
    CHECK(order({named(1, 20, "img10.jpg"), named(2, 20, "img2.jpg"), named(3, 10, "z.jpg")}) == "p3 p2 p1");
    CHECK(order({untimed(1, 50, 0, "a"), untimed(2, 40, 0, "b"), untimed(3, 40, 0, "a")}) == "p3 p2 p1");
}

TEST_CASE("A photo without an EXIF time stands between its neighbours of the counter", "[link]") {
    const std::vector<book::Photo> photos{taken(1, 10 * hour, 100, 1), untimed(2, 99 * day, 2),
                                          taken(3, 10 * hour + 60, 100, 3)};
    CHECK(order(photos) == "p1 p2 p3");
    CHECK_THAT(link::capture_order(photos).rests_on,
               Catch::Contains("1 photo without an EXIF time by their file counters"));
}

TEST_CASE("The order does not depend on the order handed in", "[link]") {
    std::mt19937 dice(3);
    std::uniform_int_distribution<int> any(0, 9);
    for (int round = 0; round < 200; ++round) {
        std::vector<book::Photo> photos;
        for (int i = 1; i <= 12; ++i) {
            book::Photo p =
                taken(i, any(dice) * 20.0, any(dice) < 7 ? 100 : 0, any(dice) < 7 ? 1 + any(dice) : 0);
            p.dump = {1 + any(dice) % 2};
            p.file_time_s = any(dice);
            p.name_on_card = std::string(1, static_cast<char>('a' + any(dice)));
            p.camera_time.source = any(dice) < 2 ? "file time" : "EXIF";
            photos.push_back(p);
        }
        const std::string first = order(photos);
        for (int shuffle = 0; shuffle < 5; ++shuffle) {
            std::shuffle(photos.begin(), photos.end(), dice);
            CHECK(order(photos) == first);
        }
    }
}
