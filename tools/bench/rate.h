// A share with its 95 % interval.
#pragma once

#include <algorithm>
#include <cmath>

namespace stripbook::bench {

struct Rate {
    int right = 0;
    int of = 0;
    [[nodiscard]] double share() const { return of > 0 ? static_cast<double>(right) / of : 0; }
    /// Half the width of Wilson's interval at 95 % (E. B. Wilson, JASA 22 (1927) 209-212).
    [[nodiscard]] double half_width() const {
        constexpr double z = 1.959964;
        const double n = std::max(1, of);
        const double p = share();
        return z / (1 + z * z / n) * std::sqrt(p * (1 - p) / n + z * z / (4 * n * n));
    }
};

}  // namespace stripbook::bench
