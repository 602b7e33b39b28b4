#include "measure/thin_bits.h"

#include <algorithm>

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
