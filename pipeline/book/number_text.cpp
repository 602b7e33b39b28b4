#include "book/number_text.h"

#include <algorithm>
#include <array>
#include <charconv>

namespace stripbook::book {

namespace {

// Long enough for the largest double written out in full.
constexpr std::size_t longest_number = 400;

}  // namespace

std::string number_text(double value) {
    std::array<char, longest_number> text{};
    const auto end = std::to_chars(text.data(), text.data() + text.size(), value, std::chars_format::fixed);
    return {text.data(), end.ptr};
}

std::optional<double> number_from(std::string_view text) {
    double value = 0;
    const auto end = std::from_chars(text.data(), text.data() + text.size(), value, std::chars_format::fixed);
    const bool digits_only = text.find_first_not_of("-0123456789.") == std::string_view::npos;
    if (end.ec != std::errc() || end.ptr != text.data() + text.size() || !digits_only) {
        return std::nullopt;
    }
    return value;
}

std::optional<int> whole_from(std::string_view text) {
    int value = 0;
    const auto end = std::from_chars(text.data(), text.data() + text.size(), value);
    const bool digits_only = text.find_first_not_of("0123456789") == std::string_view::npos;
    if (end.ec != std::errc() || end.ptr != text.data() + text.size() || !digits_only) {
        return std::nullopt;
    }
    return value;
}

std::string without_outer_spaces(std::string_view text) {
    constexpr std::string_view spaces = " \t\r\n";
    const auto first = text.find_first_not_of(spaces);
    if (first == std::string_view::npos) {
        return {};
    }
    return std::string(text.substr(first, text.find_last_not_of(spaces) - first + 1));
}

std::string in_small_letters(std::string_view text) {
    std::string out(text);
    std::transform(out.begin(), out.end(), out.begin(),
                   [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; });
    return out;
}

}  // namespace stripbook::book
