#include "link/likeness.h"

#include <cstdlib>

namespace stripbook::link {

std::optional<double> unlikeness(const std::string& a, const std::string& b) {
    if (a.empty() || a.size() != b.size() || a.front() != b.front()) {
        return std::nullopt;
    }
    // The first byte is the kind.
    int sum = 0;
    for (std::size_t i = 1; i < a.size(); ++i) {
        sum += std::abs(static_cast<unsigned char>(a[i]) - static_cast<unsigned char>(b[i]));
    }
    constexpr double highest = 255;
    return a.size() > 1 ? std::optional(sum / (highest * static_cast<double>(a.size() - 1))) : std::nullopt;
}

}  // namespace stripbook::link
