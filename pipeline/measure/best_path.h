// The best way along a band: dynamic programming.
#pragma once

#include <vector>

namespace stripbook::measure {

/// `merit`: for each profile around a closed band, how good each of its samples is; all profiles have as
/// many. The closed path, one sample a profile, of the greatest merit less a price for bends, at most three
/// samples from one profile to the next.
std::vector<int> best_path(const std::vector<std::vector<float>>& merit);

/// How much merit the best path would lose, at each profile, if it had to go through a sample more than
/// `apart` samples from its own there: near 0 where another way round would have done as well.
std::vector<double> path_margins(const std::vector<std::vector<float>>& merit, const std::vector<int>& path,
                                 int apart);

}  // namespace stripbook::measure
