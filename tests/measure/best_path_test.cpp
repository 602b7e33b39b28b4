// The best way around a band, and how much worse the next best is.
#include "measure/best_path.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <opencv2/core.hpp>

using namespace stripbook::measure;

namespace {

using Merit = std::vector<std::vector<float>>;

constexpr double never = -1e300;

// The best closed path through one sample, by trying all: from it once around and back to it.
double best_through(const Merit& merit, std::size_t profile, std::size_t sample) {
    const std::size_t n = merit.size();
    const std::size_t width = merit.front().size();
    std::vector<double> value(width, never);
    value[sample] = 0;
    for (std::size_t k = 1; k <= n; ++k) {
        std::vector<double> next(width, never);
        for (std::size_t to = 0; to < width; ++to) {
            for (std::size_t from = 0; from < width; ++from) {
                const double step = static_cast<double>(to) - static_cast<double>(from);
                if (std::abs(step) <= 3) {
                    next[to] = std::max(next[to], value[from] - 0.125 * step * step);
                }
            }
            next[to] += static_cast<double>(merit[(profile + k) % n][to]);
        }
        value = next;
    }
    return value[sample];
}

// A ridge along sample 7, noise everywhere, and a second ridge as good along a fifth of the way.
Merit two_ways() {
    Merit merit(80, std::vector<float>(21));
    cv::RNG dice(3);
    for (std::size_t i = 0; i < merit.size(); ++i) {
        for (auto& value : merit[i]) {
            value = dice.uniform(0.F, 0.3F);
        }
        merit[i][7] += 1;
        merit[i][15] += i >= 30 && i < 46 ? 1.3F : 0.F;
    }
    return merit;
}

}  // namespace

TEST_CASE("A closed path follows the merit around and comes back to where it began", "[measure]") {
    constexpr int around = 200;
    constexpr int across = 41;
    std::vector<std::vector<float>> merit(around, std::vector<float>(across, 0));
    const auto wave = [](int i) {
        return 20 + static_cast<int>(std::lround(10 * std::sin(2 * CV_PI * i / around)));
    };
    for (int i = 0; i < around; ++i) {
        merit[static_cast<std::size_t>(i)][static_cast<std::size_t>(wave(i))] = 1;
    }
    merit[50][5] = 3;  // too far away to be worth the bends
    const auto path = best_path(merit);
    for (int i = 0; i < around; ++i) {
        CHECK(path[static_cast<std::size_t>(i)] == wave(i));
    }
}

TEST_CASE("A margin is what the best closed path through another sample loses", "[measure]") {
    const Merit merit = two_ways();
    const auto path = best_path(merit);
    constexpr int apart = 4;
    const auto margins = path_margins(merit, path, apart);
    REQUIRE(margins.size() == merit.size());
    for (std::size_t i = 0; i < merit.size(); i += 3) {
        double chosen = never;
        double other = never;
        for (std::size_t k = 0; k < merit[i].size(); ++k) {
            double& most = std::abs(static_cast<int>(k) - path[i]) > apart ? other : chosen;
            most = std::max(most, best_through(merit, i, k));
        }
        CHECK(margins[i] == Approx(chosen - other).margin(1e-9));
    }
    CHECK(*std::min_element(margins.begin() + 32, margins.begin() + 44) < 4.5);
    CHECK(*std::min_element(margins.begin() + 55, margins.end()) > 5.5);
}
