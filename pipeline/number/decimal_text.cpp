#include "number/decimal_text.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>

#include "errors.h"

namespace stripbook::number {

namespace {

constexpr std::string_view all_digits = "0123456789";
constexpr std::size_t most_digits = 17;  // what a double written out in full may have
constexpr std::size_t most_places = 22;

[[noreturn]] void refuse(std::string_view text, const std::string& why) {
    throw WrongUse(fmt::format("\"{}\" is no number: {}", text, why));
}

void check_thousands(std::string_view text, std::string_view whole, std::string_view rest) {
    constexpr std::size_t group = 3;
    const bool could_be = rest.size() == group && !whole.empty() && whole.size() <= group && whole[0] != '0';
    if (could_be) {
        refuse(text,
               fmt::format("it can mean {}{} or {}.{}; type it with a point", whole, rest, whole, rest));
    }
}

}  // namespace

double power_of_ten(int places) {
    double power = 1;
    for (int i = 0; i < places; ++i) {
        power *= 10;
    }
    return power;
}

double Decimal::value() const {
    const std::string text = fmt::format("{}e-{}", digits, places);
    double nearest = 0;
    std::from_chars(text.data(), text.data() + text.size(), nearest);
    return nearest;
}

Decimal decimal_from_typed(std::string_view text, Comma comma) {
    const auto mark = text.find_first_of(".,");
    const auto whole = text.substr(0, mark);
    const auto rest = mark == std::string_view::npos ? std::string_view() : text.substr(mark + 1);
    const std::string digits = std::string(whole) + std::string(rest);
    const bool ends_in_mark = mark != std::string_view::npos && rest.empty();
    if (digits.empty() || ends_in_mark || digits.find_first_not_of(all_digits) != std::string::npos) {
        refuse(text, "write digits with one point or comma at most, for example 2.998");
    }
    const auto first = std::min(digits.find_first_not_of('0'), digits.size());
    if (digits.size() - first > most_digits || rest.size() > most_places) {
        refuse(text, fmt::format("it has more than {} digits", most_digits));
    }
    if (comma == Comma::could_part_thousands && mark != std::string_view::npos && text[mark] == ',') {
        check_thousands(text, whole, rest);
    }
    Decimal decimal;
    for (const char c : digits) {
        decimal.digits = decimal.digits * 10 + (c - '0');
    }
    decimal.places = static_cast<int>(rest.size());
    return decimal;
}

}  // namespace stripbook::number
