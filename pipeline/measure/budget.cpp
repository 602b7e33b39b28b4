#include "measure/budget.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

namespace stripbook::measure {

namespace {

constexpr int most_decimals = 9;

// Decimal digits after which binary noise begins.
double cleaned(double scaled) {
    constexpr double noise = 1e-9;
    return scaled * (1 + noise);
}

// Rounded to the nearest, a tie to the even digit, a tie being one in decimal.
double half_even(double scaled) {
    const double floor = std::floor(scaled);
    constexpr double tie = 1e-7;
    const double fraction = scaled - floor;
    if (std::abs(fraction - 0.5) < tie) {
        return std::fmod(floor, 2) == 0 ? floor : floor + 1;
    }
    return fraction < 0.5 ? floor : floor + 1;
}

}  // namespace

double Budget::combined() const {
    double sum = 0;
    for (const auto& c : components) {
        sum += c.u * c.u;
    }
    return std::sqrt(sum);
}

double Budget::effective_degrees_of_freedom() const {
    double sum = 0;
    for (const auto& c : components) {
        if (c.degrees_of_freedom > 0) {
            sum += std::pow(c.u, 4) / c.degrees_of_freedom;
        }
    }
    return sum > 0 ? std::pow(combined(), 4) / sum : std::numeric_limits<double>::infinity();
}

double u_of_rectangle(double half_width) {
    return half_width / std::sqrt(3.0);
}

std::string text_with_decimals(double value, int decimals) {
    const double power = std::pow(10.0, decimals);
    const double digits = half_even(std::abs(value) * power);
    const double rounded_value = std::copysign(digits / power, value);
    return fmt::format("{:.{}f}", digits == 0 ? 0.0 : rounded_value, decimals);
}

Rounded rounded(double value, double expanded) {
    Rounded result;
    if (!(expanded > 0) || !std::isfinite(expanded)) {
        result.value = value;
        result.expanded = expanded;
        result.decimals = 3;
        result.value_text = text_with_decimals(value, result.decimals);
        result.expanded_text = fmt::format("{}", expanded);
        return result;
    }
    const int magnitude = static_cast<int>(std::floor(std::log10(expanded)));
    const double leading = expanded / std::pow(10.0, magnitude);
    constexpr double one_digit_from = 3;
    result.decimals = std::clamp(leading < one_digit_from ? 1 - magnitude : -magnitude, 0, most_decimals);
    const double power = std::pow(10.0, result.decimals);
    double digits = std::round(cleaned(expanded * power));
    constexpr double most_lost = 0.05;
    if (digits < expanded * power * (1 - most_lost)) {
        digits = std::ceil(expanded * power);
    }
    result.expanded = digits / power;
    result.value_text = text_with_decimals(value, result.decimals);
    result.value = std::copysign(half_even(std::abs(value) * power) / power, value);
    result.expanded_text = fmt::format("{:.{}f}", result.expanded, result.decimals);
    return result;
}

}  // namespace stripbook::measure
