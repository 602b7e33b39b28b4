#include "refit/circles.h"

#include <array>
#include <catch2/catch.hpp>
#include <cstdio>
#include <fstream>
#include <random>
#include <set>
#include <sstream>

#include "sample_words.h"
#include "scratch_folder.h"

using namespace stripbook;
using namespace stripbook::test;

namespace {

struct Sorted {
    bool loop = false;
    std::vector<int> order;
};

// What GNU tsort says of the arrows and of numbers that stand alone.
Sorted by_tsort(const Arrows& arrows, const std::vector<int>& numbers) {
    const ScratchFolder scratch;
    std::ofstream file(scratch / "pairs");
    for (const int number : numbers) {
        file << number << ' ' << number << '\n';
    }
    for (const auto& [first, second] : arrows) {
        file << first << ' ' << second << '\n';
    }
    file.close();
    FILE* pipe = popen(("tsort \"" + (scratch / "pairs").string() + "\" 2>/dev/null").c_str(), "r");
    REQUIRE(pipe != nullptr);
    std::string text;
    std::array<char, 4096> piece{};
    for (std::size_t got = 0; (got = fread(piece.data(), 1, piece.size(), pipe)) > 0;) {
        text.append(piece.data(), got);
    }
    Sorted sorted;
    sorted.loop = pclose(pipe) != 0;
    std::istringstream in(text);
    for (int number = 0; in >> number;) {
        sorted.order.push_back(number);
    }
    return sorted;
}

// Every word was said, and each part leads to the next.
void check_circle(const refit::Circle& circle, const Arrows& arrows) {
    REQUIRE(circle.tags.size() == circle.words.size());
    for (std::size_t i = 0; i < circle.words.size(); ++i) {
        const auto& word = circle.words[i];
        CHECK(word.first == circle.tags[i]);
        CHECK(word.second == circle.tags[(i + 1) % circle.tags.size()]);
        CHECK(std::count(arrows.begin(), arrows.end(), std::pair(word.first.serial(), word.second.serial())) >
              0);
    }
}

}  // namespace

TEST_CASE("A circle is named with its parts and with who said what", "[refit]") {
    const auto order = refit::order_of(
        removed_in_order(counting(1, 5)),
        {before(1, 2, "Ana"), before(2, 3, "Ben"), before(3, 1, "Cleo"), before(3, 5, "Dan")});
    CHECK(serials_of(order) == std::vector<int>{4});
    CHECK(serials_of(order.without_step) == std::vector<int>{5, 3, 2, 1});
    REQUIRE(order.circles.size() == 1);
    // Which part it begins with does not matter.
    auto tags = serials_of(order.circles[0].tags);
    std::rotate(tags.begin(), std::find(tags.begin(), tags.end(), 1), tags.end());
    CHECK(tags == std::vector<int>{1, 2, 3});
    std::set<std::string> who;
    for (const auto& word : order.circles[0].words) {
        who.insert(word.who);
    }
    CHECK(who == std::set<std::string>{"Ana", "Ben", "Cleo"});
}

TEST_CASE("A circle through parts that go in together names those words too", "[refit]") {
    const auto order =
        refit::order_of(removed_in_order(counting(1, 6)),
                        {before(1, 2), together(2, 3), together(3, 4), before(4, 5), before(5, 1)});
    REQUIRE(order.circles.size() == 1);
    const auto& circle = order.circles[0];
    CHECK(circle.words.size() == 5);
    for (std::size_t i = 0; i < circle.words.size(); ++i) {
        CHECK(circle.words[i].second == circle.words[(i + 1) % circle.words.size()].first);
    }
    CHECK(serials_of(order) == std::vector<int>{6});
}

TEST_CASE("Before and together of the same two parts contradict each other", "[refit]") {
    const auto order =
        refit::order_of(removed_in_order({1, 2, 3}), {together(1, 2), together(2, 3), before(1, 3)});
    REQUIRE(order.circles.size() == 1);
    CHECK(serials_of(order.circles[0].tags) == std::vector<int>{1, 3, 2});
    CHECK(order.steps.empty());
}

TEST_CASE(
    "GNU tsort and we agree on random machines: its order is valid, ours too, and circles are found alike",
    "[refit]") {
    std::mt19937 random(42);
    int with_circles = 0;
    for (int round = 0; round < 200; ++round) {
        const int count = 2 + static_cast<int>(random() % 30);
        Arrows arrows;
        const auto wanted = random() % static_cast<unsigned>(2 * count);
        while (arrows.size() < wanted) {
            const int first = 1 + static_cast<int>(random() % static_cast<unsigned>(count));
            const int second = 1 + static_cast<int>(random() % static_cast<unsigned>(count));
            // Mostly forward, so that many machines have no circle.
            if (first < second || (first > second && random() % 12 == 0)) {
                arrows.emplace_back(first, second);
            }
        }
        std::vector<int> removed = counting(1, count);
        std::shuffle(removed.begin(), removed.end(), random);
        const auto ours = refit::order_of(removed_in_order(removed), words_of(arrows));
        const auto theirs = by_tsort(arrows, counting(1, count));
        REQUIRE(theirs.loop == !ours.circles.empty());
        if (!theirs.loop) {
            REQUIRE(is_valid_order(theirs.order, static_cast<std::size_t>(count), arrows));
            REQUIRE(is_valid_order(serials_of(ours), static_cast<std::size_t>(count), arrows));
            continue;
        }
        ++with_circles;
        std::set<int> on_circles;
        for (const auto& circle : ours.circles) {
            check_circle(circle, arrows);
            for (const int serial : serials_of(circle.tags)) {
                REQUIRE(on_circles.insert(serial).second);  // no part in two circles
            }
        }
        // Without the parts on them nothing is a circle any more, says tsort.
        std::vector<int> others;
        for (const int serial : counting(1, count)) {
            if (!on_circles.contains(serial)) {
                others.push_back(serial);
            }
        }
        std::erase_if(arrows, [&](const auto& arrow) {
            return on_circles.contains(arrow.first) || on_circles.contains(arrow.second);
        });
        REQUIRE_FALSE(by_tsort(arrows, others).loop);
        REQUIRE(ours.without_step.size() + serials_of(ours).size() == static_cast<std::size_t>(count));
    }
    CHECK(with_circles > 20);
    CHECK(with_circles < 180);
}
