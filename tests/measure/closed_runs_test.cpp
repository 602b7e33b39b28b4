// Runs of marked points around a closed line.
#include "measure/closed_runs.h"

#include <catch2/catch.hpp>
#include <string>

using namespace stripbook::measure;

namespace {

// "first+count" of each run in a line drawn with x for a marked point.
std::string runs_in(const std::string& line, std::size_t least_between) {
    std::vector<bool> marked;
    for (const char c : line) {
        marked.push_back(c == 'x');
    }
    std::string result;
    for (const auto& run : runs_around(marked, least_between)) {
        result += std::to_string(run.first % line.size()) + "+" + std::to_string(run.count) + " ";
    }
    return result;
}

}  // namespace

TEST_CASE("Runs of marked points are found around a closed line, short gaps among them", "[measure]") {
    CHECK(runs_in("..xx...x..", 1) == "2+2 7+1 ");
    CHECK(runs_in("..xx...x..", 4) == "2+6 ");
    // Across the start.
    CHECK(runs_in("xx.....xxx", 1) == "7+5 ");
    CHECK(runs_in("x.x....x.x", 2) == "7+6 ");
    CHECK(runs_in("..........", 1).empty());
    CHECK(runs_in("xxxxxxxxxx", 1) == "0+10 ");
    CHECK(runs_in("x.x.x.x.x.", 2) == "0+10 ");
}
