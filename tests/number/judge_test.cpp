#include "number/judge.h"

#include <catch2/catch.hpp>

using namespace stripbook::number;

TEST_CASE("A wear limit with its guard band judges as ISO 14253-1 says", "[number]") {
    // Flange thickness of a steam locomotive's wheel, 49 CFR 230.113(g): condemned at 15/16 in or less.
    const Limits limits{23.8125, std::nullopt};
    CHECK(judge_reading(24.30, 0.30, limits) == Verdict::within);
    CHECK(judge_reading(24.00, 0.30, limits) == Verdict::not_decided);
    CHECK(judge_reading(23.70, 0.30, limits) == Verdict::not_decided);
    CHECK(judge_reading(23.50, 0.30, limits) == Verdict::beyond);
}

TEST_CASE("The chance that the true value lies within is the normal distribution's", "[number]") {
    // The same readings, u = 0.15 mm: P(true > 23.8125), by a table of the normal distribution.
    const Limits limits{23.8125, std::nullopt};
    CHECK(chance_within(24.30, 0.15, limits) == Approx(0.9994).margin(5e-5));
    CHECK(chance_within(24.00, 0.15, limits) == Approx(0.8944).margin(5e-5));
    CHECK(chance_within(23.70, 0.15, limits) == Approx(0.2266).margin(5e-5));
    CHECK(chance_within(23.50, 0.15, limits) == Approx(0.0186).margin(5e-5));
    // Two limits one standard uncertainty away on either side: 68.27 %.
    CHECK(chance_within(10, 0.5, {9.5, 10.5}) == Approx(0.6827).margin(5e-5));
    CHECK(chance_within(22.225, 0.1, {std::nullopt, 22.225}) == Approx(0.5));
}

TEST_CASE("Taper has the uncertainty of both readings", "[number]") {
    CHECK(expanded_of_difference(0.03, 0.04) == Approx(0.05));  // 3, 4, 5
}

TEST_CASE("Two limits guard from both sides", "[number]") {
    const Limits limits{10, 11};
    CHECK(judge_reading(10.5, 0.2, limits) == Verdict::within);
    CHECK(judge_reading(10.9, 0.2, limits) == Verdict::not_decided);
    CHECK(judge_reading(11.3, 0.2, limits) == Verdict::beyond);
    CHECK(judge_reading(9.7, 0.2, limits) == Verdict::beyond);
    CHECK(judge_reading(10.5, 0.6, limits) == Verdict::not_decided);
}

TEST_CASE("A photo never says within", "[number]") {
    const Limits limits{23.8125, std::nullopt};
    CHECK(judge_dimension(30, 0.3, limits) == Verdict::not_decided);
    CHECK(judge_dimension(23.50, 0.30, limits) == Verdict::beyond);
    CHECK(photo_word_of(Verdict::beyond) == "beyond: measure it");
    CHECK(photo_word_of(Verdict::not_decided) == "not decided");
    CHECK(word_of(Verdict::within) == "within");
}

TEST_CASE("Without a limit nothing is decided", "[number]") {
    CHECK(judge_reading(5, 0.1, {}) == Verdict::not_decided);
}
