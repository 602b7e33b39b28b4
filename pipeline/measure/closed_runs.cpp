#include "measure/closed_runs.h"

namespace stripbook::measure {

std::vector<Run> runs_around(const std::vector<bool>& marked, std::size_t least_between) {
    const std::size_t n = marked.size();
    std::vector<Run> runs;
    // From behind a gap, so that no run is cut in two.
    std::size_t start = 0;
    for (std::size_t unmarked = 0; start < 2 * n && unmarked < least_between; ++start) {
        unmarked = marked[start % n] ? 0 : unmarked + 1;
    }
    if (start == 2 * n) {
        return {{0, n}};
    }
    for (std::size_t i = start; i < start + n; ++i) {
        if (!marked[i % n]) {
            continue;
        }
        if (!runs.empty() && i - (runs.back().first + runs.back().count) < least_between) {
            runs.back().count = i + 1 - runs.back().first;
        } else {
            runs.push_back({i, 1});
        }
    }
    return runs;
}

}  // namespace stripbook::measure
