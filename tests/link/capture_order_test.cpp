#include "link/capture_order.h"

#include <catch2/catch.hpp>
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
