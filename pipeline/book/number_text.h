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

std::string without_outer_spaces(std::string_view text);

/// ASCII capitals become small; all else stays.
std::string in_small_letters(std::string_view text);

}  // namespace stripbook::book
