#include "measure/judge.h"

namespace stripbook::measure {

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

}  // namespace stripbook::measure
