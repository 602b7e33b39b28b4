#include "bench/measure_outcome.h"

#include <fmt/format.h>

#include <algorithm>

namespace stripbook::bench {

void Outcome::add(const Outcome& other) {
    all.insert(all.end(), other.all.begin(), other.all.end());
    shots += other.shots;
    whole += other.whole;
    partly += other.partly;
    wrong += other.wrong;
    missing += other.missing;
    slowest_s = std::max(slowest_s, other.slowest_s);
    seconds += other.seconds;
    for (const auto& [reason, count] : other.reasons) {
        reasons[reason] += count;
    }
}

void print_head() {
    fmt::print("{:28} {:>5} {:>5} {:>5} {:>5} {:>4} {:>6} {:>7} {:>7} {:>7} {:>8} {:>8} {:>6} {:>6}\n", "",
               "shots", "whole", "holes", "wrong", "miss", "dims", "0.15 %", "0.5 %", "in U %", "med err",
               "U@200", "mean s", "most s");
}

void print_row(const std::string& name, const Outcome& o) {
    const Summary s = summary_of(o.all);
    fmt::print(
        "{:28} {:5} {:5} {:5} {:5} {:4} {:6} {:7.1f} {:7.1f} {:7.1f} {:8.3f} {:8.3f} {:6.2f} {:6.2f}\n", name,
        o.shots, o.whole, o.partly, o.wrong, o.missing, s.dimensions, 100 * s.half_within,
        100 * s.nearly_all_within, 100 * s.covered, s.median_error_mm, s.median_expanded_200_mm,
        o.seconds / std::max(1, o.shots), o.slowest_s);
}

void print_reasons(const Outcome& outcome) {
    for (const auto& [reason, count] : outcome.reasons) {
        fmt::print("    {:3} x {}\n", count, reason);
    }
}

}  // namespace stripbook::bench
