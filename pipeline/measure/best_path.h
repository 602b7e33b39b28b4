// The best way along a band: dynamic programming.
#pragma once

#include <vector>

namespace stripbook::measure {

/// `merit`: for each profile around a closed band, how good each of its samples is; all profiles have as
/// many. The closed path, one sample a profile, of the greatest merit less a price for bends, at most three
/// samples from one profile to the next.
std::vector<int> best_path(const std::vector<std::vector<float>>& merit);

}  // namespace stripbook::measure
