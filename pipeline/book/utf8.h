// UTF-8, character by character, for text that comes from cards, files and people.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace stripbook::book {

/// One well-formed character.
struct Utf8Character {
    char32_t code_point = 0;
    std::size_t bytes = 0;
};

/// The character that starts at `text[at]`, else nothing: not well-formed by Unicode 15, table 3-7 (overlong
/// forms, surrogates and what lies above U+10FFFF are not).
std::optional<Utf8Character> character_at(std::string_view text, std::size_t at);

/// Where the first byte stands that is not UTF-8, else nothing.
std::optional<std::size_t> first_wrong_byte(std::string_view text);

/// C0, DEL, C1: what moves a terminal's cursor or ends a line.
bool is_control(char32_t code_point);

/// What reorders or breaks the text around it: line and paragraph separators, and the embedding, override and
/// isolate characters of bidirectional text (U+202A..202E, U+2066..2069), with which a name can show another
/// extension.
bool disturbs_a_line(char32_t code_point);

/// Where the first control character other than newline and tab stands, else nothing. `text` must be UTF-8.
std::optional<std::size_t> first_control(std::string_view text);

/// `text` as a person typed it for the book. Throws WrongUse, naming `what` ("title"), when it is not UTF-8
/// or holds control characters other than newline and tab.
void check_typed_text(const std::string& text, const std::string& what);

}  // namespace stripbook::book
