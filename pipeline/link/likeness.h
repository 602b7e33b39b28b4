// How alike two photos look, by their signatures (photo/signature.h makes them, book/signatures.h keeps
// them).
#pragma once

#include <optional>
#include <string>

namespace stripbook::link {

/// The mean difference of the signatures' bytes, 0 (the same) to 1; nothing when either photo has none or
/// they are of different kinds.
std::optional<double> unlikeness(const std::string& a, const std::string& b);

}  // namespace stripbook::link
