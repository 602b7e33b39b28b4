#include <fmt/format.h>

#include <cstdio>

#include "bench/loops.h"
#include "bench/made_tag.h"
#include "bench/tables.h"
#include "sample_maker/dice.h"

namespace stripbook::bench {

namespace {

using sample_maker::Dice;
using sample_maker::Scene;

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

// A printed book of this many tags: a number from fiducials alone counts as read when it is one of them (or
// the one in the picture, which its own book has printed).
constexpr int printed_tags = 2000;

struct Count {
    int read = 0;
    int wrong = 0;        // numbers that the book would link
    int wrong_alone = 0;  // numbers that the reading station alone would vouch for
};

// `truth` is empty where no tag is in the picture.
void count_reading(const Scene& scene, const number::BookCode& here, const std::string& truth,
                   std::uint64_t seed, Count& count) {
    for (const auto& [text, by_qr] : ours_with_how(file_of(scene), here)) {
        if (text == truth) {
            ++count.read;
            continue;
        }
        const auto tag = number::TagNumber::from_exact(text);
        const bool known = by_qr || (tag && tag->book() == here && tag->serial() <= printed_tags);
        ++count.wrong_alone;
        count.wrong += known ? 1 : 0;
        fmt::print("  {}: {} read {}, seed {}\n", known ? "WRONG" : "kept from the book by its print runs",
                   text, truth.empty() ? "where no tag is" : "for " + truth, seed);
    }
}

}  // namespace

int print_wrong(int tags, int tagless, std::uint64_t seed) {
    const auto pet = number::BookCode::from_typed("PET");
    const auto oak = number::BookCode::from_typed("OAK");
    Dice dice(seed);
    Count on_tags;
    for (int i = 0; i < tags; ++i) {
        const TagWish wish = any_wish(dice);
        const std::uint64_t at = dice.seed();
        // One in five is another book's: the nearest thing to one of ours.
        const MadeTag made = made_tag(wish, i % 5 == 0 ? oak : pet, at);
        count_reading(made.scene, pet, made.number.text(), at, on_tags);
    }
    fmt::print(
        "\nWrong: {} made tags (a fifth of another book), worn in every way, 400 x 400: {} read, {} wrong "
        "({} more where a number from fiducials alone need not be one of {} printed)\n",
        tags, on_tags.read, on_tags.wrong, on_tags.wrong_alone - on_tags.wrong, printed_tags);
    std::fflush(stdout);
    Count on_clutter;
    for (int i = 0; i < tagless; ++i) {
        const std::uint64_t at = dice.seed();
        count_reading(made_clutter({640, 480}, at), pet, "", at, on_clutter);
    }
    fmt::print(
        "       {} pictures without a tag (dark squares, false tags, foreign codes), 640 x 480: {} wrong "
        "({} more)\n",
        tagless, on_clutter.wrong, on_clutter.wrong_alone - on_clutter.wrong);
    return on_tags.wrong + on_clutter.wrong;
}

}  // namespace stripbook::bench
