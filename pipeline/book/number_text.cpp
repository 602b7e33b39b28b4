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

std::optional<double> inches_from(std::string_view text) {
    const auto slash = text.find('/');
    if (slash == std::string_view::npos) {
        return number_from(text);
    }
    const auto space = text.substr(0, slash).find(' ');
    const bool has_whole = space != std::string_view::npos;
    const auto whole = has_whole ? whole_from(text.substr(0, space)) : 0;
    const auto upper =
        whole_from(has_whole ? text.substr(space + 1, slash - space - 1) : text.substr(0, slash));
    const auto lower = whole_from(text.substr(slash + 1));
    if (!whole || !upper || !lower || *lower == 0) {
        return std::nullopt;
    }
    return *whole + static_cast<double>(*upper) / *lower;
}

std::optional<double> length_mm_from(std::string_view text, bool inch) {
    std::string number = in_small_letters(without_outer_spaces(text));
    const auto ends_with = [&number](std::string_view unit) {
        if (number.size() <= unit.size() || !number.ends_with(unit)) {
            return false;
        }
        number = without_outer_spaces(std::string_view(number).substr(0, number.size() - unit.size()));
        return true;
    };
    if (ends_with("mm")) {
        inch = false;
    } else if (ends_with("inch") || ends_with("in") || ends_with("\"")) {
        inch = true;
    }
    const auto value = inch ? inches_from(number) : number_from(number);
    return value && inch ? std::optional(*value * mm_per_inch) : value;
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
