#include "refit/order.h"

#include <array>
#include <catch2/catch.hpp>
#include <numeric>
#include <random>

#include "sample_words.h"

using namespace stripbook;
using namespace stripbook::test;

namespace {

// J.R. Jackson's eleven tasks (1956), as A. Scholl's data set of 1993 has them in JACKSON.IN2.
const Arrows jackson{{1, 2}, {1, 3}, {1, 4}, {1, 5},  {2, 6},  {3, 7},  {4, 7},
                     {5, 7}, {6, 8}, {7, 9}, {8, 10}, {9, 11}, {10, 11}};

// Cormen, Leiserson, Rivest, Introduction to Algorithms: the professor dresses.
enum Clothes { shirt = 1, tie, jacket, belt, pants, shoes, undershorts, socks, watch };
const Arrows dressing{{shirt, tie},         {shirt, belt},        {tie, jacket},
                      {belt, jacket},       {pants, shoes},       {pants, belt},
                      {undershorts, pants}, {undershorts, shoes}, {socks, shoes}};

// Plain, and quick enough for forty million permutations.
std::size_t valid_orders(int count, const Arrows& arrows) {
    std::vector<int> place(static_cast<std::size_t>(count));
    std::iota(place.begin(), place.end(), 0);
    std::size_t valid = 0;
    do {
        valid += std::all_of(arrows.begin(), arrows.end(), [&](const auto& arrow) {
            return place[static_cast<std::size_t>(arrow.first - 1)] <
                   place[static_cast<std::size_t>(arrow.second - 1)];
        });
    } while (std::next_permutation(place.begin(), place.end()));
    return valid;
}

// The rule in another form: of all valid orders, the first by the reverse of removal read like letters in a
// dictionary. `reversed`: the serials, removed last first.
std::vector<int> first_in_the_dictionary(const std::vector<int>& reversed, const Arrows& arrows) {
    std::vector<std::size_t> choice(reversed.size());
    std::iota(choice.begin(), choice.end(), 0U);
    do {
        std::vector<int> order;
        for (const auto i : choice) {
            order.push_back(reversed[i]);
        }
        if (is_valid_order(order, reversed.size(), arrows)) {
            return order;
        }
    } while (std::next_permutation(choice.begin(), choice.end()));
    return {};
}

}  // namespace

TEST_CASE("Without words the order is the reverse of removal", "[refit]") {
    const auto order = refit::order_of(removed_in_order({5, 3, 9, 1}), {});
    CHECK(serials_of(order) == std::vector<int>{1, 9, 3, 5});
    CHECK(order.circles.empty());
    CHECK(order.without_step.empty());
    CHECK(refit::order_of({}, {}).steps.empty());
}

TEST_CASE("A part without an as-removed photo goes last, and equal times go by photo, then by tag",
          "[refit]") {
    std::vector<book::Removal> removals{{tag(1), std::nullopt, {}}, {tag(2), 60, {7}},
                                        {tag(3), 60, {8}},          {tag(5), 60, {7}},
                                        {tag(4), 0, {1}},           {tag(6), std::nullopt, {}}};
    CHECK(serials_of(refit::order_of(removals, {})) == std::vector<int>{3, 2, 5, 4, 1, 6});
}

TEST_CASE("Jackson's tasks: 756 valid orders, and ours is one of them", "[refit]") {
    CHECK(valid_orders(11, jackson) == 756);
    // Removed 11 first: the numbers themselves are a valid order, the first by number (published).
    CHECK(serials_of(refit::order_of(removed_in_order(counting(11, 1)), words_of(jackson))) ==
          counting(1, 11));
    const auto other = serials_of(refit::order_of(removed_in_order(counting(1, 11)), words_of(jackson)));
    CHECK(is_valid_order(other, 11, jackson));
    CHECK(other != counting(1, 11));
}

TEST_CASE(
    "The professor dresses: 1728 valid orders, and the book's own comes out when removed in its reverse",
    "[refit]") {
    CHECK(valid_orders(9, dressing) == 1728);
    const std::vector<int> in_the_book{socks, undershorts, pants, shoes, watch, shirt, belt, tie, jacket};
    CHECK(is_valid_order(in_the_book, 9, dressing));
    const std::vector<int> reversed(in_the_book.rbegin(), in_the_book.rend());
    CHECK(serials_of(refit::order_of(removed_in_order(reversed), words_of(dressing))) == in_the_book);
    CHECK(is_valid_order(serials_of(refit::order_of(removed_in_order(in_the_book), words_of(dressing))), 9,
                         dressing));
}

TEST_CASE("On small random machines the order is the one that the rule picks", "[refit]") {
    std::mt19937 random(20261125);
    int changed_by_words = 0;
    for (int round = 0; round < 300; ++round) {
        const int count = 2 + static_cast<int>(random() % 6);
        std::vector<int> removed = counting(1, count);
        std::shuffle(removed.begin(), removed.end(), random);
        Arrows arrows;
        for (int first = 1; first <= count; ++first) {
            for (int second = first + 1; second <= count; ++second) {
                if (random() % 3 == 0) {
                    arrows.emplace_back(first, second);
                }
            }
        }
        const std::vector<int> reversed(removed.rbegin(), removed.rend());
        const auto ours = serials_of(refit::order_of(removed_in_order(removed), words_of(arrows)));
        REQUIRE(ours == first_in_the_dictionary(reversed, arrows));
        changed_by_words += ours != reversed ? 1 : 0;
    }
    CHECK(changed_by_words > 100);
}

TEST_CASE("Parts said to go in together are one step, in the place of the one removed last", "[refit]") {
    const auto order =
        refit::order_of(removed_in_order({1, 2, 3, 4, 5}), {together(1, 4), together(2, 4), before(2, 5)});
    REQUIRE(order.steps.size() == 3);
    CHECK(serials_of(order.steps[0]) == std::vector<int>{4, 2, 1});
    CHECK(serials_of(order.steps[1]) == std::vector<int>{5});
    CHECK(serials_of(order.steps[2]) == std::vector<int>{3});
}

TEST_CASE("A word about a part that is not there counts for nothing", "[refit]") {
    const auto order =
        refit::order_of(removed_in_order({1, 2}), {before(9, 2), together(1, 9), before(1, 2)});
    CHECK(serials_of(order) == std::vector<int>{1, 2});
}

TEST_CASE("The order of a hundred thousand parts with as many words keeps every word", "[refit]") {
    constexpr int parts = 99999;
    std::mt19937 random(7);
    std::vector<int> removed = counting(1, parts);
    std::shuffle(removed.begin(), removed.end(), random);
    Arrows arrows;
    for (int i = 0; i < parts; ++i) {
        const auto [first, second] =
            std::minmax({1 + static_cast<int>(random() % parts), 1 + static_cast<int>(random() % parts)});
        if (first != second) {
            arrows.emplace_back(first, second);
        }
    }
    CHECK(is_valid_order(serials_of(refit::order_of(removed_in_order(removed), words_of(arrows))), parts,
                         arrows));
    // A chain as long as the book, and one that closes to a circle.
    Arrows chain;
    for (int i = 1; i < parts; ++i) {
        chain.emplace_back(i, i + 1);
    }
    CHECK(serials_of(refit::order_of(removed_in_order(removed), words_of(chain))) == counting(1, parts));
    chain.emplace_back(parts, 1);
    const auto closed = refit::order_of(removed_in_order(removed), words_of(chain));
    CHECK(closed.steps.empty());
    REQUIRE(closed.circles.size() == 1);
    CHECK(closed.circles[0].tags.size() == parts);
}
