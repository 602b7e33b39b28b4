// UTF-8 text as its characters, and back.
#pragma once

#include <string>
#include <string_view>

namespace stripbook::print {

/// Text that may come from anywhere: composed (Unicode NFC); line ends, tabs and every kind of space become a
/// space; bytes that are no UTF-8 become \xNN, control and invisible characters \u{NNNN}.
std::u32string characters_of(std::string_view utf8);

std::string utf8_of(std::u32string_view characters);

/// At most `most` characters; cut text ends in an ellipsis.
std::string first_characters(std::string_view utf8, std::size_t most);

}  // namespace stripbook::print
