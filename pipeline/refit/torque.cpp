#include "refit/torque.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "book/number_text.h"

namespace stripbook::refit {

namespace {

// The unit's letters alone, small: "N·m" and "lbf-ft" are "nm" and "lbfft".
std::optional<TorqueUnit> unit_of_letters(const std::string& letters) {
    constexpr std::array<std::string_view, 4> foot_words{"lbfft", "lbft", "ftlbf", "ftlb"};
    if (letters == "nm") {
        return TorqueUnit::newton_metre;
    }
    const bool is_foot = std::find(foot_words.begin(), foot_words.end(), letters) != foot_words.end();
    return is_foot ? std::optional(TorqueUnit::pound_force_foot) : std::nullopt;
}

// What stands between the letters of a unit.
std::string without_joiners(std::string text) {
    for (const std::string_view joiner : {"\xC2\xB7", "\xE2\x8B\x85", ".", "-", " ", "*"}) {
        for (auto at = text.find(joiner); at != std::string::npos; at = text.find(joiner)) {
            text.erase(at, joiner.size());
        }
    }
    return text;
}

// Three figures, and never an exponent.
std::string three_figures(double value) {
    const int before_point = value > 0 ? static_cast<int>(std::floor(std::log10(value))) + 1 : 1;
    return fmt::format("{:.{}f}", value, std::clamp(3 - before_point, 0, 6));
}

}  // namespace

const char* torque_unit_words(TorqueUnit unit) {
    return unit == TorqueUnit::newton_metre ? "N.m" : "lbf.ft";
}

std::optional<TorqueUnit> torque_unit_of(std::string_view words) {
    return unit_of_letters(without_joiners(book::in_small_letters(words)));
}

std::optional<Torque> torque_from(std::string_view typed) {
    const std::string text = book::without_outer_spaces(typed);
    const auto end_of_number = text.find_first_not_of("0123456789.");
    if (end_of_number == std::string::npos) {
        return std::nullopt;
    }
    const auto value = book::number_from(std::string_view(text).substr(0, end_of_number));
    const auto unit = torque_unit_of(std::string_view(text).substr(end_of_number));
    return value && unit && *value > 0 ? std::optional(Torque{*value, *unit}) : std::nullopt;
}

double newton_metres(const Torque& torque) {
    return torque.unit == TorqueUnit::newton_metre ? torque.value
                                                   : torque.value * newton_metres_per_pound_force_foot;
}

double pound_force_feet(const Torque& torque) {
    return torque.unit == TorqueUnit::pound_force_foot ? torque.value
                                                       : torque.value / newton_metres_per_pound_force_foot;
}

std::string torque_words(const Torque& torque) {
    return fmt::format("{} {}", book::number_text(torque.value), torque_unit_words(torque.unit));
}

std::string torque_in_other_unit(const Torque& torque) {
    return torque.unit == TorqueUnit::newton_metre
               ? fmt::format("{} {}", three_figures(pound_force_feet(torque)),
                             torque_unit_words(TorqueUnit::pound_force_foot))
               : fmt::format("{} {}", three_figures(newton_metres(torque)),
                             torque_unit_words(TorqueUnit::newton_metre));
}

}  // namespace stripbook::refit
