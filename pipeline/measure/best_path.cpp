#include "measure/best_path.h"

#include <algorithm>
#include <cstdlib>
#include <limits>
#include <utility>

namespace stripbook::measure {

namespace {

constexpr int most_step = 3;
constexpr double step_cost = 0.25;  // of one sample of bend, in shares of a strong edge
constexpr double never = std::numeric_limits<double>::lowest();

// Of each sample of a profile, of the best way there; `most_step` more at both ends, which no way comes to,
// so that all samples have as many before them.
class Values {
  public:
    Values(std::size_t samples, double all) : value_(samples + most_step + most_step, never) {
        std::fill_n(value_.begin() + most_step, samples, all);
    }
    [[nodiscard]] double& at(std::size_t sample) { return value_[sample + most_step]; }
    [[nodiscard]] double at(std::size_t sample) const { return value_[sample + most_step]; }
    // The best step from a sample to one of the profile before, and the value it comes with.
    [[nodiscard]] std::pair<int, double> best_step(std::size_t sample) const {
        std::pair<int, double> best{0, never};
        for (int d = -most_step; d <= most_step; ++d) {
            const double value =
                value_[sample + static_cast<std::size_t>(d + most_step)] - step_cost * d * d / 2;
            if (value > best.second) {
                best = {d, value};
            }
        }
        return best;
    }
    [[nodiscard]] int best_sample() const {
        const auto first = value_.begin() + most_step;
        return static_cast<int>(std::max_element(first, value_.end() - most_step) - first);
    }

  private:
    std::vector<double> value_;
};

// One profile on; the steps that lead to each of its samples.
std::vector<signed char> go_on(const std::vector<float>& merit, Values& values) {
    std::vector<signed char> steps(merit.size());
    Values next(merit.size(), never);
    for (std::size_t j = 0; j < merit.size(); ++j) {
        const auto [step, value] = values.best_step(j);
        steps[j] = static_cast<signed char>(step);
        next.at(j) = value + static_cast<double>(merit[j]);
    }
    values = std::move(next);
    return steps;
}

// Of every sample, of the best way that comes to it from once around; backwards: from the other side.
std::vector<Values> values_of_ways(const std::vector<std::vector<float>>& merit, bool backwards) {
    const std::size_t n = merit.size();
    std::vector<Values> ways(n, Values(0, never));
    Values values(merit.front().size(), 0);
    for (int round = 0; round < 2; ++round) {
        for (std::size_t k = 0; k < n; ++k) {
            const std::size_t i = backwards ? n - 1 - k : k;
            go_on(merit[i], values);
            ways[i] = values;  // of the second round, in the end
        }
    }
    return ways;
}

}  // namespace

// Run twice around, so that its ends meet.
std::vector<int> best_path(const std::vector<std::vector<float>>& merit) {
    const int n = static_cast<int>(merit.size());
    std::vector<std::vector<signed char>> from;
    from.reserve(2 * merit.size());
    Values best(merit.front().size(), 0);
    for (int round = 0; round < 2 * n; ++round) {
        from.push_back(go_on(merit[static_cast<std::size_t>(round % n)], best));
    }
    int j = best.best_sample();
    std::vector<int> path(static_cast<std::size_t>(n));
    for (int round = 2 * n - 1; round >= n / 2; --round) {
        // The middle of the two rounds is settled at both ends.
        if (round < n + n / 2) {
            path[static_cast<std::size_t>(round % n)] = j;
        }
        j += from[static_cast<std::size_t>(round)][static_cast<std::size_t>(j)];
    }
    return path;
}

std::vector<double> path_margins(const std::vector<std::vector<float>>& merit, const std::vector<int>& path,
                                 int apart) {
    const auto on = values_of_ways(merit, false);
    const auto back = values_of_ways(merit, true);
    std::vector<double> margins;
    margins.reserve(merit.size());
    for (std::size_t i = 0; i < merit.size(); ++i) {
        double chosen = never;
        double other = never;
        for (std::size_t j = 0; j < merit[i].size(); ++j) {
            // Both ways count the sample itself.
            const double value = on[i].at(j) + back[i].at(j) - static_cast<double>(merit[i][j]);
            double& most = std::abs(static_cast<int>(j) - path[i]) > apart ? other : chosen;
            most = std::max(most, value);
        }
        margins.push_back(chosen - other);
    }
    return margins;
}

}  // namespace stripbook::measure
