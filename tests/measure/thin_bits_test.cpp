#include "measure/thin_bits.h"

#include <algorithm>
#include <cmath>

#include <catch2/catch.hpp>

using namespace stripbook;

namespace {

std::vector<cv::Point2d> evenly_along(const std::vector<cv::Point2d>& corners) {
    std::vector<cv::Point2d> even;
    for (std::size_t i = 0; i < corners.size(); ++i) {
        const cv::Point2d a = corners[i];
        const cv::Point2d side = corners[(i + 1) % corners.size()] - a;
        const int steps = static_cast<int>(cv::norm(side) / 0.2) + 1;
        for (int s = 0; s < steps; ++s) {
            even.push_back(a + side * (s / double(steps)));
        }
    }
    return even;
}

}  // namespace

TEST_CASE("A right angle stands out of a disc of 1 mm in it by 0.41 mm, a spike by its length", "[measure]") {
    // The disc touches both sides; the corner is sqrt 2 away from its middle.
    const auto block = evenly_along({{0, 0}, {60, 0}, {60, 40}, {0, 40}});
    const auto of_block = measure::beyond_opening(block, 1);
    REQUIRE(of_block.size() == block.size());
    CHECK(*std::max_element(of_block.begin(), of_block.end()) == Approx(0.414).margin(0.15));

    const auto spiked = evenly_along({{0, 0}, {29.5, 0}, {30, -4}, {30.5, 0}, {60, 0}, {60, 40}, {0, 40}});
    const auto of_spiked = measure::beyond_opening(spiked, 1);
    const auto tip = std::max_element(of_spiked.begin(), of_spiked.end());
    CHECK(*tip == Approx(4).margin(0.4));
    CHECK(cv::norm(spiked[static_cast<std::size_t>(tip - of_spiked.begin())] - cv::Point2d(30, -4)) < 0.5);

    // A lug of 6 mm is the part's own.
    const auto lugged =
        evenly_along({{0, 0}, {27, 0}, {27, -5}, {33, -5}, {33, 0}, {60, 0}, {60, 40}, {0, 40}});
    const auto of_lugged = measure::beyond_opening(lugged, 1);
    CHECK(*std::max_element(of_lugged.begin(), of_lugged.end()) < 0.5);
}

TEST_CASE("A spike on a straight side is told from one at a corner and from a pointed part", "[measure]") {
    const auto spiked = evenly_along({{0, 0}, {29.5, 0}, {30, -4}, {30.5, 0}, {60, 0}, {60, 40}, {0, 40}});
    const auto on_side = measure::thin_bits(spiked);
    REQUIRE(on_side.size() == 1);
    CHECK(on_side[0].on_straight);
    CHECK(on_side[0].stands_out_mm == Approx(4).margin(0.4));
    const auto tip = evenly_along({{0, 0}, {60, -8}, {0, 40}});
    for (const auto& bit : measure::thin_bits(tip)) {
        CHECK_FALSE(bit.on_straight);
    }
    CHECK(measure::thin_bits(evenly_along({{0, 0}, {60, 0}, {60, 40}, {0, 40}})).empty());
    CHECK(measure::thin_bits({}).empty());
}

TEST_CASE("A low tick is told on a smooth outline, where no corner stands out as far", "[measure]") {
    // An arc of 114 mm radius, as a shoe's back is, with a tick of 0.6 mm.
    std::vector<cv::Point2d> arc;
    constexpr double step = 0.2 / 114;
    for (int i = -300; i <= 300; ++i) {
        arc.emplace_back(114 * std::sin(i * step), -114 * std::cos(i * step));
    }
    auto closed = evenly_along({arc.back(), {60, -60}, {-60, -60}, arc.front()});
    closed.insert(closed.end(), arc.begin(), arc.end());
    REQUIRE(measure::thin_bits(closed).empty());
    const std::size_t middle = closed.size() - 301;
    for (std::size_t k = 0; k < 3; ++k) {
        closed[middle - 1 + k].y -= 0.6;
    }
    const auto ticks = measure::thin_bits(closed);
    REQUIRE(ticks.size() == 1);
    CHECK(ticks[0].on_straight);
    CHECK(ticks[0].stands_out_mm == Approx(0.6).margin(0.2));
}
