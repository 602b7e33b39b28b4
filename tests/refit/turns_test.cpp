#include "refit/turns.h"

#include <catch2/catch.hpp>

#include "sample_words.h"

using namespace stripbook;
using namespace stripbook::test;

namespace {

constexpr refit::Standing ready{true, false, true};
constexpr refit::Standing not_ready{false, false, true};
constexpr refit::Standing in_place{true, true, true};
constexpr refit::Standing scrap{false, false, false};

using Standings = std::map<number::TagNumber, refit::Standing>;

// Parts 1, 2, ... in the order of refitting, unless words change it.
std::vector<refit::Turn> turns_of(const std::vector<refit::Standing>& of_parts,
                                  const std::vector<book::RefitWord>& words) {
    Standings standings;
    for (std::size_t i = 0; i < of_parts.size(); ++i) {
        standings[tag(static_cast<int>(i) + 1)] = of_parts[i];
    }
    const auto order =
        refit::order_of(removed_in_order(counting(static_cast<int>(of_parts.size()), 1)), words);
    return refit::turns(order, words, standings);
}

}  // namespace

TEST_CASE("What is ready can go in, and only the first of it is in turn", "[refit]") {
    const auto turns = turns_of({in_place, ready, ready, not_ready}, {});
    CHECK(turns[0].state == refit::State::in_place);
    CHECK(turns[1].state == refit::State::can_go_in);
    CHECK(turns[1].in_turn);
    CHECK(turns[2].state == refit::State::can_go_in);
    CHECK_FALSE(turns[2].in_turn);
    CHECK(turns[3].state == refit::State::held_up);
    CHECK(serials_of(turns[3].not_ready) == std::vector<int>{4});
    CHECK(turns[3].step == 4);
}

TEST_CASE("A part waits for what people said goes before it, also through what is in place or scrap",
          "[refit]") {
    CHECK(serials_of(turns_of({ready, ready}, {before(1, 2)})[1].waits_for) == std::vector<int>{1});
    CHECK(turns_of({in_place, ready}, {before(1, 2)})[1].state == refit::State::can_go_in);
    const std::vector<book::RefitWord> chain{before(1, 2), before(2, 3)};
    CHECK(serials_of(turns_of({ready, ready, ready}, chain)[2].waits_for) == std::vector<int>{2});
    CHECK(serials_of(turns_of({ready, in_place, ready}, chain)[2].waits_for) == std::vector<int>{1});
    CHECK(serials_of(turns_of({ready, scrap, ready}, chain)[2].waits_for) == std::vector<int>{1});
    CHECK(turns_of({in_place, scrap, ready}, chain)[2].state == refit::State::can_go_in);
    CHECK(turns_of({in_place, scrap, ready}, chain)[1].state == refit::State::left_out);
    CHECK(turns_of({in_place, scrap, ready}, chain)[2].in_turn);
}

TEST_CASE("A step of several parts waits until all of them are ready", "[refit]") {
    const auto turns = turns_of({ready, not_ready, ready}, {together(1, 2)});
    CHECK(turns[0].state == refit::State::held_up);
    CHECK(serials_of(turns[0].not_ready) == std::vector<int>{2});
    CHECK(turns[0].step == turns[1].step);
    CHECK(turns[2].state == refit::State::can_go_in);
    // One of it is in already: the other can follow.
    CHECK(turns_of({ready, in_place}, {together(1, 2)})[0].state == refit::State::can_go_in);
}

TEST_CASE("What is on a circle has no step and is held up", "[refit]") {
    const auto turns = turns_of({ready, ready, ready, in_place}, {before(1, 2), before(2, 1), before(4, 1)});
    REQUIRE(turns.size() == 4);
    CHECK(turns[0].tag == tag(3));
    CHECK(turns[2].step == 0);
    CHECK(turns[2].state == refit::State::held_up);
    CHECK(turns[3].state == refit::State::held_up);
}
