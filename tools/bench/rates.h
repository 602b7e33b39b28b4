// Read rates of the three ways on the same made pictures.
#pragma once

#include <cstdint>

#include "bench/made_tag.h"
#include "bench/rate.h"

namespace stripbook::bench {

struct Rates {
    Rate a, b, ours;
    int wrong = 0;  ///< numbers that ours confirmed and that are not there
    /// Below the better of A and B by more than the 95 % interval.
    [[nodiscard]] bool fell_behind() const {
        const double best = std::max(a.share(), b.share());
        return ours.share() < best - ours.half_width();
    }
};

Rates rates_of(const TagWish& wish, int tags, std::uint64_t seed);

/// The row's right part: three percentages and what is noteworthy.
void print_rates(const Rates& rates);

}  // namespace stripbook::bench
