// Money as whole cents, the same under every locale.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

namespace stripbook::number {

/// "12.50", "12,5" or "12" as cents. Throws WrongUse naming `text`: no number, or parts of a cent.
std::int64_t cents_from_typed(std::string_view text);

/// "12.50"; with the currency behind it where there is one: "12.50 GBP".
std::string money_text(std::int64_t cents, std::string_view currency);

}  // namespace stripbook::number
