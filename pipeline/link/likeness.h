// How alike two photos look, by their signatures (photo/signature.h makes them, book/signatures.h keeps
// them).
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace stripbook::link {

/// The mean difference of the signatures' bytes, 0 (the same) to 1; nothing when either photo has none or
/// they are of different kinds.
std::optional<double> unlikeness(const std::string& a, const std::string& b);

/// The look that several photos have in common: the mean of their signatures.
class CommonLook {
  public:
    /// Photos without a signature, or with one of another kind than the first's, count for nothing.
    void add(const std::string& signature);
    /// A signature; empty when no photo had one.
    [[nodiscard]] std::string signature() const;

  private:
    std::string first_;
    std::vector<int> sums_;
    int count_ = 0;
};

}  // namespace stripbook::link
