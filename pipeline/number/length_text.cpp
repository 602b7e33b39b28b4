#include "number/length_text.h"

#include <fmt/format.h>

#include <array>
#include <charconv>
#include <cmath>
#include <numeric>
#include <optional>

#include "errors.h"

namespace stripbook::number {

namespace {

// Digits of a unit in millimetres: 254 / 10^1 is the inch. Whole numbers, so that nothing is rounded twice.
struct Unit {
    std::string_view typed;
    std::string_view kept;
    int numerator;
    int places;
    bool takes_fractions;
};

// The longer words first, since "in" ends none of them but "m" would end "mm".
constexpr std::array<Unit, 10> units{{{"inches", "in", 254, 1, true},
                                      {"inch", "in", 254, 1, true},
                                      {"thou", "thou", 254, 4, false},
                                      {"in", "in", 254, 1, true},
                                      {"\u2033", "in", 254, 1, true},
                                      {"\"", "in", 254, 1, true},
                                      {"mm", "mm", 1, 0, false},
                                      {"\u00b5m", "um", 1, 3, false},
                                      {"\u03bcm", "um", 1, 3, false},
                                      {"um", "um", 1, 3, false}}};
constexpr Unit millimetre{"", "mm", 1, 0, false};
constexpr Unit inch{"", "in", 254, 1, true};

constexpr int finest_fraction = 128;
constexpr std::string_view spaces = " \t";

std::string_view trimmed(std::string_view text) {
    const auto first = text.find_first_not_of(spaces);
    return first == std::string_view::npos ? std::string_view()
                                           : text.substr(first, text.find_last_not_of(spaces) - first + 1);
}

[[noreturn]] void refuse(std::string_view text, const std::string& why) {
    throw WrongUse(fmt::format("\"{}\" is no length: {}", text, why));
}

std::string small_letters(std::string_view text) {
    std::string out(text);
    for (char& c : out) {
        c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    }
    return out;
}

// Splits `text` into number and unit. What stands behind the last digit is the unit.
Unit unit_at_end(std::string_view text, LengthUnit book_unit, std::string_view& amount) {
    const auto last = text.find_last_of("0123456789/.,");
    amount = trimmed(text.substr(0, last == std::string_view::npos ? 0 : last + 1));
    const auto rest = trimmed(last == std::string_view::npos ? text : text.substr(last + 1));
    if (amount.empty()) {
        refuse(text, "it has no number; write 76.2, 76.2mm or 3 5/16 in");
    }
    if (rest.empty()) {
        return book_unit == LengthUnit::inch ? inch : millimetre;
    }
    for (const Unit& unit : units) {
        if (small_letters(rest) == unit.typed) {
            return unit;
        }
    }
    refuse(text, fmt::format("\"{}\" is no unit here; there are mm, um, in and thou", rest));
}

std::optional<int> whole_of(std::string_view text) {
    int value = 0;
    constexpr std::size_t most_digits = 6;
    const auto end = std::from_chars(text.data(), text.data() + text.size(), value);
    const bool all = end.ec == std::errc() && end.ptr == text.data() + text.size();
    return all && text[0] != '-' && text.size() <= most_digits ? std::optional(value) : std::nullopt;
}

// Exactly, rounded once; of more digits than fit beside the unit's own the last may be one off.
double mm_of(const Decimal& decimal, const Unit& unit) {
    constexpr std::int64_t most_exact = 10'000'000'000'000'000;
    if (decimal.digits < most_exact || unit.numerator == 1) {
        return Decimal{decimal.digits * unit.numerator, decimal.places + unit.places}.value();
    }
    return decimal.value() * unit.numerator / power_of_ten(unit.places);
}

// "3 5/16", "3-5/16", "5/16" as sixteenths and so on: 53 / 16.
struct Fraction {
    int numerator = 0;
    int denominator = 1;
};

Fraction fraction_from(std::string_view text, std::string_view amount, std::size_t slash) {
    constexpr std::string_view shape = "write a fraction as 3 5/16 or 5/16";
    const auto before = trimmed(amount.substr(0, slash));
    const auto gap = before.find_first_of(" \t-");
    const bool mixed = gap != std::string_view::npos;
    const auto whole = mixed ? whole_of(before.substr(0, gap)) : std::optional(0);
    const auto upper = whole_of(mixed ? trimmed(before.substr(gap + 1)) : before);
    const auto lower = whole_of(amount.substr(slash + 1));
    if (!whole || !upper || !lower || before.size() != slash) {
        refuse(text, std::string(shape));
    }
    const bool on_a_rule = *lower >= 2 && *lower <= finest_fraction && (*lower & (*lower - 1)) == 0;
    if (!on_a_rule) {
        refuse(text,
               fmt::format("inches are halved: 1/2, 1/4 ... 1/64, 1/128; 1/{} is none of them", *lower));
    }
    if (mixed && *upper >= *lower) {
        refuse(text, fmt::format("{}/{} is a whole inch or more beside a whole number", *upper, *lower));
    }
    return {*whole * *lower + *upper, *lower};
}

}  // namespace

TypedLength length_from_typed(std::string_view typed, LengthUnit book_unit, Comma comma) {
    const auto text = trimmed(typed);
    std::string_view amount;
    const Unit unit = unit_at_end(text, book_unit, amount);
    const std::string kept = fmt::format("{} {}", amount, unit.kept);
    const auto slash = amount.find('/');
    if (slash == std::string_view::npos) {
        const Decimal decimal = decimal_from_typed(amount, comma);
        return {mm_of(decimal, unit), kept};
    }
    if (!unit.takes_fractions) {
        refuse(text, fmt::format("a fraction is of an inch, not of {}", unit.kept));
    }
    const Fraction fraction = fraction_from(text, amount, slash);
    const double numerator = static_cast<double>(fraction.numerator) * unit.numerator;
    return {numerator / (fraction.denominator * power_of_ten(unit.places)), kept};
}

std::string inch_fraction(double mm) {
    constexpr int finest = 64;
    constexpr double close_mm = 0.001;
    const auto parts = static_cast<long>(std::lround(mm / mm_per_inch * finest));
    const bool close = std::abs(static_cast<double>(parts) / finest * mm_per_inch - mm) <= close_mm;
    const long whole = parts / finest;
    const long rest = parts % finest;
    std::string text = whole != 0 || rest == 0 ? std::to_string(whole) : "";
    if (rest != 0) {
        const long common = std::gcd(rest, static_cast<long>(finest));
        text += fmt::format("{}{}/{}", text.empty() ? "" : " ", rest / common, finest / common);
    }
    return fmt::format("{}{} in", close ? "" : "about ", text);
}

}  // namespace stripbook::number
