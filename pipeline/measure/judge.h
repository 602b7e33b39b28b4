// Judging a value against limits after ISO 14253-1: the guard band is U (k = 2) on either side of a limit.
#pragma once

#include <optional>
#include <string_view>

namespace stripbook::measure {

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

/// `within`, `beyond`, `not decided`.
std::string_view word_of(Verdict verdict);
/// For a dimension from a photo: `beyond: measure it` or `not decided`.
std::string_view photo_word_of(Verdict verdict);

}  // namespace stripbook::measure
