// The exact sums against a published worked example: S. Russell and P. Norvig, Artificial Intelligence: A
// Modern Approach, third edition, section 15.2.2 (the umbrella world): rain on day 1 given umbrellas on days
// 1 and 2 is 0.883; filtered, day 1 is 0.818 and day 2 is 0.883.
#include "link/forward_backward.h"

#include <array>
#include <catch2/catch.hpp>

using namespace stripbook::link;

namespace {

// States: rain, no rain. An umbrella was seen every day.
struct UmbrellaWorld {
    static constexpr std::array<double, 2> umbrella{0.9, 0.2};
    static double next(std::size_t from, std::size_t to) { return from == to ? 0.7 : 0.3; }

    [[nodiscard]] std::size_t steps() const { return 2; }
    [[nodiscard]] Weights at_end() const { return {1, 1}; }
    [[nodiscard]] Weights forward(std::size_t /*step*/, const Weights& before) const {
        const Weights from = before.empty() ? Weights{0.5, 0.5} : before;
        Weights now(2, 0);
        for (std::size_t s = 0; s < 2; ++s) {
            now[s] = umbrella.at(s) * (from[0] * next(0, s) + from[1] * next(1, s));
        }
        return now;
    }
    [[nodiscard]] Weights backward(std::size_t /*step*/, const Weights& behind) const {
        Weights before(2, 0);
        for (std::size_t s = 0; s < 2; ++s) {
            before[s] = next(s, 0) * umbrella[0] * behind[0] + next(s, 1) * umbrella[1] * behind[1];
        }
        return before;
    }
};

}  // namespace

TEST_CASE("Forward and backward sums give the umbrella world's published chances", "[link]") {
    std::array<double, 2> smoothed{};
    std::array<double, 2> filtered_before{};
    forward_backward(UmbrellaWorld{}, [&](std::size_t step, const Weights& posterior, const Weights& before,
                                          const Weights& /*behind*/) {
        smoothed.at(step) = posterior[0];
        filtered_before.at(step) = before.empty() ? 0.5 : before[0];
    });
    constexpr double printed_to = 0.0005;  // three digits
    CHECK(smoothed[0] == Approx(0.883).margin(printed_to));
    CHECK(smoothed[1] == Approx(0.883).margin(printed_to));
    CHECK(filtered_before[1] == Approx(0.818).margin(printed_to));
}
