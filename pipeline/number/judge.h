// Judging a value against limits after ISO 14253-1: the guard band is U (k = 2) on either side of a limit.
#pragma once

#include <optional>
#include <string_view>

namespace stripbook::number {

struct Limits {
    std::optional<double> lower;
    std::optional<double> upper;
};

enum class Verdict { within, beyond, not_decided };

/// Of a gauge reading: within when lower + U <= value <= upper - U, beyond when value < lower - U or
/// value > upper + U, else not decided.
Verdict judge_reading(double value, double expanded, const Limits& limits);

/// Of a dimension from a photo: beyond or not decided. Within needs an instrument.
Verdict judge_dimension(double value, double expanded, const Limits& limits);

/// How probable it is that the true value lies within the limits, 0 to 1, the value being known to a standard
/// uncertainty `u` above 0 and its errors normal (JCGM 106:2012, 7).
double chance_within(double value, double u, const Limits& limits);

/// The largest of several readings less the smallest: taper, out-of-round. Its expanded uncertainty is the
/// root of the sum of squares of the two, as if their errors were independent; a gauge that reads all of them
/// high alike makes it smaller than that, never larger.
double expanded_of_difference(double expanded_of_one, double expanded_of_other);

/// `within`, `beyond`, `not decided`.
std::string_view word_of(Verdict verdict);
/// For a dimension from a photo: `beyond: measure it` or `not decided`.
std::string_view photo_word_of(Verdict verdict);

}  // namespace stripbook::number
