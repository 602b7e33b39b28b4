// Numbers as text and back, the same under every locale.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace stripbook::book {

/// The shortest text that reads back as the same number: 84.1375, 16.
std::string number_text(double value);

/// All of `text` as a decimal number with "." (no sign of infinity, no exponent), else nothing.
std::optional<double> number_from(std::string_view text);

/// All of `text` as a whole number, digits only, else nothing (also when it is too large for an int).
std::optional<int> whole_from(std::string_view text);

/// All of `text` as inches: decimal (3.3125) or with a fraction (3 5/16, 5/16), else nothing.
std::optional<double> inches_from(std::string_view text);

/// A length as people type it, in mm: "99.7", "76.2mm", "2.998 in", "3 5/16 in", "3 5/16\""; without a unit
/// in that of the book (`inch` or else mm). Nothing when it is no length.
std::optional<double> length_mm_from(std::string_view text, bool inch);

inline constexpr double mm_per_inch = 25.4;  ///< exact, by definition (ISO 31-1)

std::string without_outer_spaces(std::string_view text);

/// ASCII capitals become small; all else stays.
std::string in_small_letters(std::string_view text);

}  // namespace stripbook::book
