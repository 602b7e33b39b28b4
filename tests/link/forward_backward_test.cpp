// The exact sums against a published worked example: S. Russell and P. Norvig, Artificial Intelligence: A
// Modern Approach, third edition, section 15.2.2 (the umbrella world): rain on day 1 given umbrellas on days
// 1 and 2 is 0.883; filtered, day 1 is 0.818 and day 2 is 0.883.
#include "link/forward_backward.h"

#include <array>
#include <catch2/catch.hpp>
#include <random>
#include <vector>

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

// A chain of five steps of three states with chances drawn at random, some of them zero.
struct RandomChain {
    static constexpr std::size_t states = 3;
    static constexpr std::size_t length = 5;

    explicit RandomChain(unsigned seed) : random_(seed) {
        for (auto& step : seen) {
            for (double& chance : step) {
                chance = draw();
            }
        }
        for (auto& row : next) {
            for (double& chance : row) {
                chance = draw();
            }
        }
        next[1][2] = 0;  // a way that nobody goes
    }
    [[nodiscard]] static std::size_t steps() { return length; }
    [[nodiscard]] static Weights at_end() { return Weights(states, 1); }
    [[nodiscard]] Weights forward(std::size_t step, const Weights& before) const {
        Weights now(states, 0);
        for (std::size_t s = 0; s < states; ++s) {
            double into = before.empty() ? 1 : 0;
            for (std::size_t from = 0; from < before.size(); ++from) {
                into += before[from] * next.at(from).at(s);
            }
            now[s] = into * seen.at(step).at(s);
        }
        return now;
    }
    [[nodiscard]] Weights backward(std::size_t step, const Weights& behind) const {
        Weights before(states, 0);
        for (std::size_t from = 0; from < states; ++from) {
            for (std::size_t s = 0; s < states; ++s) {
                before[from] += next.at(from).at(s) * seen.at(step).at(s) * behind[s];
            }
        }
        return before;
    }
    /// The weight of one path.
    [[nodiscard]] double weight(const std::array<std::size_t, length>& path) const {
        double product = 1;
        for (std::size_t t = 0; t < length; ++t) {
            product *= seen.at(t).at(path.at(t)) * (t == 0 ? 1 : next.at(path.at(t - 1)).at(path.at(t)));
        }
        return product;
    }

  private:
    double draw() { return std::uniform_real_distribution<double>(0, 1)(random_); }
    std::mt19937 random_;
    std::array<std::array<double, states>, length> seen{};
    std::array<std::array<double, states>, states> next{};
};

}  // namespace

TEST_CASE("Forward and backward sums are those over every path", "[link]") {
    for (unsigned seed = 1; seed <= 50; ++seed) {
        CAPTURE(seed);
        const RandomChain chain(seed);
        std::array<std::array<double, RandomChain::states>, RandomChain::length> by_path{};
        double all = 0;
        for (std::size_t number = 0; number < 243; ++number) {  // 3 to the power of 5
            std::array<std::size_t, RandomChain::length> path{};
            std::size_t rest = number;
            for (auto& state : path) {
                state = rest % RandomChain::states;
                rest /= RandomChain::states;
            }
            const double weight = chain.weight(path);
            all += weight;
            for (std::size_t t = 0; t < path.size(); ++t) {
                by_path.at(t).at(path.at(t)) += weight;
            }
        }
        forward_backward(chain, [&](std::size_t step, const Weights& posterior, const Weights& /*before*/,
                                    const Weights& /*behind*/) {
            for (std::size_t s = 0; s < RandomChain::states; ++s) {
                CHECK(posterior.at(s) == Approx(by_path.at(step).at(s) / all).epsilon(1e-12));
            }
        });
    }
}

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
