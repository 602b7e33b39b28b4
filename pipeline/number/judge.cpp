#include "number/judge.h"

#include <cmath>
#include <numbers>

namespace stripbook::number {

Verdict judge_reading(double value, double expanded, const Limits& limits) {
    if ((limits.lower && value < *limits.lower - expanded) ||
        (limits.upper && value > *limits.upper + expanded)) {
        return Verdict::beyond;
    }
    const bool above = !limits.lower || value >= *limits.lower + expanded;
    const bool below = !limits.upper || value <= *limits.upper - expanded;
    const bool judged = limits.lower || limits.upper;
    return judged && above && below ? Verdict::within : Verdict::not_decided;
}

Verdict judge_dimension(double value, double expanded, const Limits& limits) {
    return judge_reading(value, expanded, limits) == Verdict::beyond ? Verdict::beyond : Verdict::not_decided;
}

double chance_within(double value, double u, const Limits& limits) {
    // The share of the normal distribution below `limit`.
    const auto below = [&](double limit) {
        return std::erfc((value - limit) / (u * std::numbers::sqrt2)) / 2;
    };
    return (limits.upper ? below(*limits.upper) : 1) - (limits.lower ? below(*limits.lower) : 0);
}

double expanded_of_difference(double expanded_of_one, double expanded_of_other) {
    return std::hypot(expanded_of_one, expanded_of_other);
}

std::string_view word_of(Verdict verdict) {
    switch (verdict) {
        case Verdict::within:
            return "within";
        case Verdict::beyond:
            return "beyond";
        default:
            return "not decided";
    }
}

std::string_view photo_word_of(Verdict verdict) {
    return verdict == Verdict::beyond ? "beyond: measure it" : "not decided";
}

}  // namespace stripbook::number
