#include "bench/rates.h"

#include <fmt/format.h>

#include <cstdio>

#include "bench/loops.h"
#include "sample_maker/dice.h"

namespace stripbook::bench {

Rates rates_of(const TagWish& wish, int tags, std::uint64_t seed) {
    const auto pet = number::BookCode::from_typed("PET");
    sample_maker::Dice seeds(seed);
    Rates rates;
    for (int i = 0; i < tags; ++i) {
        const MadeTag made = made_tag(wish, pet, seeds.seed());
        const std::string file = file_of(made.scene);
        const auto confirmed = ours(file, pet);
        rates.a.right += a_is_right(loop_a(file), made.number) ? 1 : 0;
        rates.b.right += b_is_right(loop_b(file), made.number) ? 1 : 0;
        rates.ours.right += ours_is_right(confirmed, made.number) ? 1 : 0;
        rates.wrong += wrong_numbers(confirmed, {made.number});
    }
    rates.a.of = rates.b.of = rates.ours.of = tags;
    return rates;
}

void print_rates(const Rates& rates) {
    fmt::print("{:7.1f} {:7.1f} {:7.1f}  +-{:.1f}{}{}\n", 100 * rates.a.share(), 100 * rates.b.share(),
               100 * rates.ours.share(), 100 * rates.ours.half_width(),
               rates.fell_behind() ? "  below the better loop" : "",
               rates.wrong > 0 ? fmt::format("  {} WRONG", rates.wrong) : "");
    std::fflush(stdout);
}

}  // namespace stripbook::bench
