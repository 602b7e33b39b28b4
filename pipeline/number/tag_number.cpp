#include "number/tag_number.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <stdexcept>

#include "errors.h"

namespace stripbook::number {

namespace {

constexpr std::string_view alphabet = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ";
constexpr std::size_t serial_digits = 5;

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

bool is_capital(char c) {
    return c >= 'A' && c <= 'Z';
}

std::string in_capitals(std::string_view text) {
    std::string out(text);
    std::transform(out.begin(), out.end(), out.begin(),
                   [](unsigned char c) { return static_cast<char>(std::toupper(c)); });
    return out;
}

std::string without_outer_spaces(std::string_view text) {
    const auto first = text.find_first_not_of(" \t\r\n");
    if (first == std::string_view::npos) {
        return {};
    }
    return std::string(text.substr(first, text.find_last_not_of(" \t\r\n") - first + 1));
}

bool all_digits(std::string_view text) {
    return !text.empty() && std::all_of(text.begin(), text.end(), is_digit);
}

[[noreturn]] void refuse(std::string_view typed, const std::string& why) {
    throw WrongUse(fmt::format("\"{}\" is not a tag number: {}", typed, why));
}

// The serial and, where it was typed, the check character, of the part of a typed number behind the book
// code.
struct TypedSerial {
    std::string digits;
    std::optional<char> check;
};

TypedSerial split_serial(std::string_view typed, const std::string& rest) {
    const auto hyphen = rest.find('-');
    if (hyphen != std::string::npos) {
        if (rest.size() != hyphen + 2) {
            refuse(typed, "behind the last hyphen stands one check character, as in PET-00417-D");
        }
        return {rest.substr(0, hyphen), rest.back()};
    }
    if (rest.size() == serial_digits + 1 && all_digits(rest.substr(0, serial_digits))) {
        return {rest.substr(0, serial_digits), rest.back()};
    }
    return {rest, std::nullopt};
}

}  // namespace

char check_character(std::string_view body) {
    if (body.empty()) {
        throw std::invalid_argument("no characters to check");
    }
    constexpr int modulus = 36;
    int p = modulus;
    for (const char c : body) {
        const auto value = alphabet.find(c);
        if (value == std::string_view::npos) {
            throw std::invalid_argument("only 0-9 and A-Z have a check character");
        }
        int s = (p + static_cast<int>(value)) % modulus;
        if (s == 0) {
            s = modulus;
        }
        p = 2 * s % (modulus + 1);
    }
    return alphabet[static_cast<std::size_t>((modulus + 1 - p) % modulus)];
}

std::optional<BookCode> BookCode::from_exact(std::string_view text) {
    const bool right =
        text.size() >= 2 && text.size() <= 4 && is_capital(text[0]) &&
        std::all_of(text.begin(), text.end(), [](char c) { return is_digit(c) || is_capital(c); });
    if (!right) {
        return std::nullopt;
    }
    return BookCode(std::string(text));
}

BookCode BookCode::from_typed(std::string_view text) {
    const auto code = from_exact(in_capitals(without_outer_spaces(text)));
    if (!code) {
        throw WrongUse(fmt::format(
            "\"{}\" is not a book code: 2 to 4 letters and digits, the first a letter, for example PET",
            text));
    }
    return *code;
}

TagNumber::TagNumber(BookCode book, int serial) : book_(std::move(book)), serial_(serial) {
    if (serial < 1 || serial > highest_serial) {
        throw WrongUse(
            fmt::format("{} is not a serial number: they run from 1 to {}", serial, highest_serial));
    }
}

std::optional<TagNumber> TagNumber::from_exact(std::string_view text) {
    const auto first = text.find('-');
    if (first == std::string_view::npos || text.size() != first + serial_digits + 3) {
        return std::nullopt;
    }
    const auto book = BookCode::from_exact(text.substr(0, first));
    const auto digits = text.substr(first + 1, serial_digits);
    if (!book || !all_digits(digits) || text[first + 1 + serial_digits] != '-') {
        return std::nullopt;
    }
    const int serial = std::stoi(std::string(digits));
    if (serial == 0) {
        return std::nullopt;
    }
    TagNumber tag(*book, serial);
    if (tag.check() != text.back()) {
        return std::nullopt;
    }
    return tag;
}

TagNumber TagNumber::from_typed(std::string_view typed, const BookCode& here) {
    std::string text = in_capitals(without_outer_spaces(typed));
    if (text.empty()) {
        refuse(typed, "type it as PET-00417-D, PET-00417 or just 417");
    }
    BookCode book = here;
    // A bare number may not start with a letter and a book code always does, so the two cannot be mixed up.
    if (!is_digit(text[0])) {
        const auto hyphen = text.find('-');
        const auto code = BookCode::from_exact(text.substr(0, hyphen));
        if (hyphen == std::string::npos || !code) {
            refuse(typed, "type it as PET-00417-D, PET-00417 or just 417");
        }
        book = *code;
        text = text.substr(hyphen + 1);
    }
    const auto [digits, check] = split_serial(typed, text);
    if (!all_digits(digits) || digits.size() > serial_digits) {
        refuse(typed, fmt::format("the serial has one to five digits; it runs from 1 to {}", highest_serial));
    }
    const int serial = std::stoi(digits);
    if (serial == 0) {
        refuse(typed, fmt::format("the serial runs from 1 to {}", highest_serial));
    }
    TagNumber tag(book, serial);
    if (check && *check != tag.check()) {
        refuse(typed, fmt::format("the check character {} does not fit {}; look at the tag again", *check,
                                  tag.short_text()));
    }
    return tag;
}

char TagNumber::check() const {
    return check_character(fmt::format("{}{:05}", book_.text(), serial_));
}

std::string TagNumber::text() const {
    return fmt::format("{}-{:05}-{}", book_.text(), serial_, check());
}

std::string TagNumber::short_text() const {
    return fmt::format("{}-{:05}", book_.text(), serial_);
}

}  // namespace stripbook::number
