// Decimal numbers as people type them, kept exactly: "2.998", "45,02", "12.50".
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

namespace stripbook::number {

/// digits / 10^places, never negative.
struct Decimal {
    std::int64_t digits = 0;
    int places = 0;
    /// The nearest double.
    [[nodiscard]] double value() const;
};

/// Whether a comma may only be the decimal mark, as in a list whose cells are parted by something else.
enum class Comma { decimal_mark, could_part_thousands };

/// All of `text` as a decimal number, the same under every locale: digits, one point or comma, at most 17
/// digits that count, no sign, no exponent. Throws WrongUse naming `text` and what is wrong with it; also for
/// "1,250", which is a thousand and more for some people and one and a quarter for others, unless the comma
/// can only be the decimal mark.
Decimal decimal_from_typed(std::string_view text, Comma comma = Comma::could_part_thousands);

/// 10 to the power of `places`, exact up to 22.
double power_of_ten(int places);

}  // namespace stripbook::number
