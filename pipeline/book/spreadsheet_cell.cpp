#include "book/spreadsheet_cell.h"

#include <algorithm>
#include <array>
#include <string_view>

namespace stripbook::book {

namespace {

constexpr char apostrophe = '\'';

bool take_off(std::string_view& text, std::string_view front) {
    if (text.substr(0, front.size()) != front) {
        return false;
    }
    text.remove_prefix(front.size());
    return true;
}

// Space, no-break space, the spaces of U+2000 to U+200B, narrow no-break and ideographic space, byte order
// mark.
bool take_off_a_space(std::string_view& text) {
    constexpr std::array<std::string_view, 5> spaces{" ", "\xc2\xa0", "\xe2\x80\xaf", "\xe3\x80\x80",
                                                     "\xef\xbb\xbf"};
    for (const auto space : spaces) {
        if (take_off(text, space)) {
            return true;
        }
    }
    constexpr std::string_view general = "\xe2\x80";
    if (text.size() > 2 && text.substr(0, 2) == general && static_cast<unsigned char>(text[2]) <= 0x8bU) {
        text.remove_prefix(3);
        return true;
    }
    return false;
}

// A sign, digits with points or commas among them, perhaps an exponent: nothing to run.
bool is_number(std::string_view text) {
    text.remove_prefix(!text.empty() && (text[0] == '-' || text[0] == '+') ? 1 : 0);
    const auto is_digit = [](char c) { return c >= '0' && c <= '9'; };
    const auto end = std::find_if(text.begin(), text.end(), [](char c) { return c == 'e' || c == 'E'; });
    const std::string_view before = text.substr(0, static_cast<std::size_t>(end - text.begin()));
    if (before.empty() || !is_digit(before.back()) || !std::all_of(before.begin(), before.end(), [&](char c) {
            return is_digit(c) || c == '.' || c == ',';
        })) {
        return false;
    }
    if (end == text.end()) {
        return true;
    }
    std::string_view power = text.substr(before.size() + 1);
    power.remove_prefix(!power.empty() && (power[0] == '-' || power[0] == '+') ? 1 : 0);
    return !power.empty() && std::all_of(power.begin(), power.end(), is_digit);
}

bool would_run(std::string_view text) {
    if (is_number(text)) {
        return false;
    }
    while (take_off_a_space(text) || take_off(text, "'")) {
    }
    constexpr std::array<std::string_view, 11> starts{
        "=", "+", "-", "@", "\t", "\r", "\n", "\xef\xbc\x9d", "\xef\xbc\x8b", "\xef\xbc\x8d", "\xef\xbc\xa0"};
    return std::any_of(starts.begin(), starts.end(),
                       [&](std::string_view start) { return text.substr(0, start.size()) == start; });
}

}  // namespace

std::string defused(const std::string& text) {
    return would_run(text) ? apostrophe + text : text;
}

std::string without_defusing(const std::string& text) {
    const bool was_defused =
        !text.empty() && text.front() == apostrophe && would_run(std::string_view(text).substr(1));
    return was_defused ? text.substr(1) : text;
}

}  // namespace stripbook::book
