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

void CommonLook::add(const std::string& signature) {
    if (signature.empty()) {
        return;
    }
    if (count_ == 0) {
        first_ = signature;
        sums_.assign(signature.size(), 0);
    }
    if (signature.size() != first_.size() || signature.front() != first_.front()) {
        return;
    }
    for (std::size_t i = 1; i < signature.size(); ++i) {
        sums_[i] += static_cast<unsigned char>(signature[i]);
    }
    ++count_;
}

std::string CommonLook::signature() const {
    std::string mean = first_;
    for (std::size_t i = 1; i < mean.size(); ++i) {
        mean[i] = static_cast<char>(static_cast<unsigned char>(sums_[i] / count_));
    }
    return mean;
}

}  // namespace stripbook::link
