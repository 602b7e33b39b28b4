#include "measure/judge.h"

#include <catch2/catch.hpp>

using namespace stripbook::measure;

TEST_CASE("A wear limit with its guard band judges as ISO 14253-1 says", "[measure]") {
    // Flange thickness of a steam locomotive's wheel, 49 CFR 230.113(g): condemned at 15/16 in or less.
    const Limits limits{23.8125, std::nullopt};
    CHECK(judge_reading(24.30, 0.30, limits) == Verdict::within);
    CHECK(judge_reading(24.00, 0.30, limits) == Verdict::not_decided);
    CHECK(judge_reading(23.70, 0.30, limits) == Verdict::not_decided);
    CHECK(judge_reading(23.50, 0.30, limits) == Verdict::beyond);
}

TEST_CASE("Two limits guard from both sides", "[measure]") {
    const Limits limits{10, 11};
    CHECK(judge_reading(10.5, 0.2, limits) == Verdict::within);
    CHECK(judge_reading(10.9, 0.2, limits) == Verdict::not_decided);
    CHECK(judge_reading(11.3, 0.2, limits) == Verdict::beyond);
    CHECK(judge_reading(9.7, 0.2, limits) == Verdict::beyond);
    CHECK(judge_reading(10.5, 0.6, limits) == Verdict::not_decided);
}

TEST_CASE("A photo never says within", "[measure]") {
    const Limits limits{23.8125, std::nullopt};
    CHECK(judge_dimension(30, 0.3, limits) == Verdict::not_decided);
    CHECK(judge_dimension(23.50, 0.30, limits) == Verdict::beyond);
    CHECK(photo_word_of(Verdict::beyond) == "beyond: measure it");
    CHECK(photo_word_of(Verdict::not_decided) == "not decided");
    CHECK(word_of(Verdict::within) == "within");
}

TEST_CASE("Without a limit nothing is decided", "[measure]") {
    CHECK(judge_reading(5, 0.1, {}) == Verdict::not_decided);
}
