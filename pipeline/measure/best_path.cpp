#include "measure/best_path.h"

#include <algorithm>
#include <limits>

namespace stripbook::measure {

// Run twice around, so that its ends meet.
std::vector<int> best_path(const std::vector<std::vector<float>>& merit) {
    const int n = static_cast<int>(merit.size());
    const int width = static_cast<int>(merit.front().size());
    constexpr int most_step = 3;
    constexpr double step_cost = 0.25;  // of one sample of bend, in shares of a strong edge
    std::vector<std::vector<signed char>> from(static_cast<std::size_t>(2 * n),
                                               std::vector<signed char>(static_cast<std::size_t>(width), 0));
    std::vector<double> best(static_cast<std::size_t>(width), 0);
    for (int round = 0; round < 2 * n; ++round) {
        const auto& here = merit[static_cast<std::size_t>(round % n)];
        std::vector<double> next(best.size(), -std::numeric_limits<double>::max());
        for (int j = 0; j < width; ++j) {
            for (int d = -most_step; d <= most_step; ++d) {
                const int k = j + d;
                if (k < 0 || k >= width) {
                    continue;
                }
                const double value = best[static_cast<std::size_t>(k)] - step_cost * d * d / 2 +
                                     static_cast<double>(here[static_cast<std::size_t>(j)]);
                if (value > next[static_cast<std::size_t>(j)]) {
                    next[static_cast<std::size_t>(j)] = value;
                    from[static_cast<std::size_t>(round)][static_cast<std::size_t>(j)] =
                        static_cast<signed char>(d);
                }
            }
        }
        best = next;
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

}  // namespace stripbook::measure
