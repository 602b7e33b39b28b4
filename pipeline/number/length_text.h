// Lengths as people type them, and as an inch rule shows them. The inch is 25.4 mm exactly (NIST SP 811,
// B.8).
#pragma once

#include <string>
#include <string_view>

#include "number/decimal_text.h"

namespace stripbook::number {

inline constexpr double mm_per_inch = 25.4;

enum class LengthUnit { mm, inch };

struct TypedLength {
    double mm = 0;     ///< the double nearest to what was typed
    std::string text;  ///< as typed, without outer spaces, and with its unit: "3 5/16 in", "76.2 mm"
};

/// All of `text` as a length: "2.998", "3 5/16 in", "3-5/16\"", "5/16 in", "76.2mm", "76,2 mm", "12 um",
/// "5 thou"; without a unit in `book_unit`. Units: mm, um (micrometres), in, inch, inches, " and thou (1/1000
/// in). Fractions only of inches, in halves to hundred-and-twenty-eighths. The same under every locale.
/// Throws WrongUse naming the text and what is wrong with it.
TypedLength length_from_typed(std::string_view text, LengthUnit book_unit,
                              Comma comma = Comma::could_part_thousands);

/// The nearest sixty-fourth of an inch in lowest terms: "3 5/16 in", "0 in"; with "about " before it when the
/// length lies more than a micrometre off it.
std::string inch_fraction(double mm);

}  // namespace stripbook::number
