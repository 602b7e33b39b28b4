// Values by their rank.
#pragma once

#include <algorithm>
#include <cstddef>
#include <vector>

namespace stripbook::measure {

/// The value that stands at `share` (0 to 1) of the way when they are sorted, without interpolation. At least
/// one value.
template <typename Value>
Value value_at_share(std::vector<Value> values, double share) {
    const auto place =
        values.begin() + static_cast<std::ptrdiff_t>(share * static_cast<double>(values.size() - 1));
    std::nth_element(values.begin(), place, values.end());
    return *place;
}

/// The median; of an even count the upper one of the two in the middle. At least one value.
template <typename Value>
Value middle_value(std::vector<Value> values) {
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

}  // namespace stripbook::measure
