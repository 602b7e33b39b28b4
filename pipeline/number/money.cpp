#include "number/money.h"

#include <fmt/format.h>

#include "errors.h"
#include "number/decimal_text.h"

namespace stripbook::number {

std::int64_t cents_from_typed(std::string_view text) {
    constexpr int places_of_a_cent = 2;
    Decimal amount = decimal_from_typed(text);
    constexpr std::int64_t most_digits = 100'000'000'000;
    if (amount.places > places_of_a_cent || amount.digits >= most_digits) {
        throw WrongUse(fmt::format("\"{}\" is no amount of money: write it as 12.50", text));
    }
    for (; amount.places < places_of_a_cent; ++amount.places) {
        amount.digits *= 10;
    }
    return amount.digits;
}

std::string money_text(std::int64_t cents, std::string_view currency) {
    constexpr std::int64_t cents_in_one = 100;
    const std::string amount = fmt::format("{}.{:02}", cents / cents_in_one, cents % cents_in_one);
    return currency.empty() ? amount : fmt::format("{} {}", amount, currency);
}

}  // namespace stripbook::number
