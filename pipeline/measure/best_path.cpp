#include "measure/best_path.h"

#include <algorithm>
#include <cstdlib>
#include <limits>

namespace stripbook::measure {

namespace {

constexpr int most_step = 3;
constexpr double step_cost = 0.25;  // of one sample of bend, in shares of a strong edge
constexpr double never = std::numeric_limits<double>::lowest();

using Values = std::vector<double>;  // of each sample of a profile: of the best way there

// The best step to sample `j` from the profile before.
int step_to(const Values& before, int j) {
    const int width = static_cast<int>(before.size());
    int best = 0;
    double most = never;
    for (int d = std::max(-most_step, -j); d <= std::min(most_step, width - 1 - j); ++d) {
        const int from = j + d;
        const double value = before[static_cast<std::size_t>(from)] - step_cost * d * d / 2;
        if (value > most) {
            most = value;
            best = d;
        }
    }
    return best;
}

// One profile on; the steps that lead to each of its samples.
std::vector<signed char> go_on(const std::vector<float>& merit, Values& values) {
    std::vector<signed char> steps;
    steps.reserve(merit.size());
    Values next;
    next.reserve(merit.size());
    for (int j = 0; j < static_cast<int>(merit.size()); ++j) {
        const int d = step_to(values, j);
        const int from = j + d;
        steps.push_back(static_cast<signed char>(d));
        next.push_back(values[static_cast<std::size_t>(from)] - step_cost * d * d / 2 +
                       static_cast<double>(merit[static_cast<std::size_t>(j)]));
    }
    values = std::move(next);
    return steps;
}

// Of every sample, of the best way that comes to it from once around; backwards: from the other side.
std::vector<Values> values_of_ways(const std::vector<std::vector<float>>& merit, bool backwards) {
    const std::size_t n = merit.size();
    std::vector<Values> ways(n);
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
    int j = static_cast<int>(std::max_element(best.begin(), best.end()) - best.begin());
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
            const double value = on[i][j] + back[i][j] - static_cast<double>(merit[i][j]);
            double& most = std::abs(static_cast<int>(j) - path[i]) > apart ? other : chosen;
            most = std::max(most, value);
        }
        margins.push_back(chosen - other);
    }
    return margins;
}

}  // namespace stripbook::measure
