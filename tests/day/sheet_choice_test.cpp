#include "day/sheet_choice.h"

#include <catch2/catch.hpp>
#include <cmath>

using namespace stripbook;

namespace {

book::MarkerSheet bench_sheet(int number, std::optional<double> across_mm, bool retired = false) {
    book::MarkerSheet sheet{"bench", number, 1, "", "", retired, std::nullopt};
    if (across_mm) {
        // The line along is drawn 100.0 mm too (docs/tag-code.md).
        sheet.check = book::MarkerCheck{{*across_mm, 100.0, std::nullopt, 0.1}, "", ""};
    }
    return sheet;
}

std::vector<book::Sighting> code(const std::string& text) {
    book::Sighting sighting;
    sighting.kind = book::SightingKind::other_code;
    sighting.text = text;
    return {sighting};
}

}  // namespace

TEST_CASE("A sheet that says its number gets its own correction", "[day]") {
    const std::vector<book::MarkerSheet> sheets{bench_sheet(1, 99.0), bench_sheet(2, 100.4)};
    const auto choice = day::choose_sheet("bench", sheets, code("MARKER-BENCH-0002"), false);
    REQUIRE(choice.correction);
    CHECK(choice.correction->across == Approx(1.004));
    CHECK(choice.correction->u_relative == Approx(0.001));
    CHECK(choice.words == "MARKER-BENCH-0002");
}

TEST_CASE("A sheet that does not say its number gets a correction wide enough for every one in use",
          "[day]") {
    const std::vector<book::MarkerSheet> sheets{bench_sheet(1, 99.6), bench_sheet(2, 100.4),
                                                bench_sheet(3, 90.0, true)};
    const auto choice = day::choose_sheet("bench", sheets, {}, false);
    REQUIRE(choice.correction);
    CHECK(choice.correction->across == Approx(1.0));
    // JCGM 100:2008, 4.3.7: a half-width of 0.4 % is u 0.4 % / sqrt 3, with the caliper's 0.1 % beside it.
    CHECK(choice.correction->u_relative == Approx(std::hypot(0.001, 0.004 / std::sqrt(3.0))));
    CHECK(choice.words == "any of 2 bench sheets");
}

TEST_CASE("A sheet nobody measured gives no number unless asked, and then 2 per cent", "[day]") {
    const std::vector<book::MarkerSheet> sheets{bench_sheet(1, 99.6), bench_sheet(2, std::nullopt)};
    for (const auto& seen :
         {std::vector<book::Sighting>{}, code("MARKER-BENCH-0002"), code("MARKER-BENCH-0009")}) {
        const auto refused = day::choose_sheet("bench", sheets, seen, false);
        CHECK_FALSE(refused.correction);
        CHECK_THAT(refused.refusal, Catch::Contains("stripbook markers measured bench"));
        const auto asked = day::choose_sheet("bench", sheets, seen, true);
        REQUIRE(asked.correction);
        CHECK(asked.correction->u_relative == Approx(0.02));
    }
    // Another kind's code says nothing of this sheet.
    CHECK(day::choose_sheet("bench", {bench_sheet(1, 99.6)}, code("MARKER-MAT-0001"), false).words ==
          "MARKER-BENCH-0001");
    CHECK_FALSE(day::choose_sheet("mat", sheets, {}, false).correction);
}
