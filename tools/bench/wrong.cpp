#include <fmt/format.h>

#include <cstdio>

#include "bench/loops.h"
#include "bench/made_tag.h"
#include "bench/tables.h"
#include "sample_maker/dice.h"

namespace stripbook::bench {

namespace {

using sample_maker::Dice;

// Anything that a workshop does to a tag, all at once now and then.
TagWish any_wish(Dice& dice) {
    TagWish wish;
    wish.px_per_mm = dice.between(0.6, 2.2);
    wish.size_px = {400, 400};
    const auto now_and_then = [&](double most) {
        return dice.whole(0, 2) == 0 ? dice.between(0, most) : 0.0;
    };
    wish.grime = now_and_then(0.7);
    wish.covered = now_and_then(0.5);
    wish.glare = now_and_then(2);
    wish.shake_px = now_and_then(9);
    wish.gain = dice.whole(0, 2) == 0 ? dice.between(0.1, 4) : 1.0;
    wish.noise = dice.between(1, 10);
    wish.wire = dice.whole(0, 9) == 0;
    wish.torn = dice.whole(0, 9) == 0;
    return wish;
}

}  // namespace

int print_wrong(int tags, int tagless, std::uint64_t seed) {
    const auto pet = number::BookCode::from_typed("PET");
    const auto oak = number::BookCode::from_typed("OAK");
    Dice dice(seed);
    int read = 0;
    int wrong = 0;
    const auto report = [&](const MadeTag& made, std::uint64_t at) {
        for (const auto& text : ours(file_of(made.scene), pet)) {
            if (text == made.number.text()) {
                ++read;
            } else {
                ++wrong;
                fmt::print("  WRONG: {} read for {}, seed {}\n", text, made.number.text(), at);
            }
        }
    };
    for (int i = 0; i < tags; ++i) {
        const TagWish wish = any_wish(dice);
        const std::uint64_t at = dice.seed();
        // One in five is another book's: the nearest thing to one of ours.
        report(made_tag(wish, i % 5 == 0 ? oak : pet, at), at);
    }
    fmt::print(
        "\nWrong: {} made tags (a fifth of another book), worn in every way, 400 x 400: {} read, {} wrong\n",
        tags, read, wrong);
    std::fflush(stdout);
    int wrong_in_clutter = 0;
    for (int i = 0; i < tagless; ++i) {
        const std::uint64_t at = dice.seed();
        for (const auto& text : ours(file_of(made_clutter({640, 480}, at)), pet)) {
            ++wrong_in_clutter;
            fmt::print("  WRONG: {} read where no tag is, seed {}\n", text, at);
        }
    }
    fmt::print(
        "       {} pictures without a tag (dark squares, false tags, foreign codes), 640 x 480: {} wrong\n",
        tagless, wrong_in_clutter);
    return wrong + wrong_in_clutter;
}

}  // namespace stripbook::bench
