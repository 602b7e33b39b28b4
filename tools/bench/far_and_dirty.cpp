#include <fmt/format.h>

#include <string>

#include "bench/rates.h"
#include "bench/tables.h"

namespace stripbook::bench {

namespace {

void print_curve(const std::string& name, const std::vector<double>& values, double TagWish::*knob,
                 const TagWish& base, int tags, std::uint64_t seed) {
    for (const double value : values) {
        TagWish wish = base;
        wish.*knob = value;
        fmt::print("{:>14} {:5.2f} ", name, value);
        print_rates(rates_of(wish, tags, seed));
    }
}

void print_point(const std::string& name, const TagWish& wish, int tags, std::uint64_t seed) {
    fmt::print("{:>14}       ", name);
    print_rates(rates_of(wish, tags, seed));
}

}  // namespace

void print_far(int tags_a_point, std::uint64_t seed) {
    fmt::print(
        "\nFar: large tag, any turn, tilt to 25 degrees, 800 x 600 pictures, {} tags a point; % read\n",
        tags_a_point);
    fmt::print("         px/mm         A       B    ours\n");
    print_curve("", {0.5, 0.6, 0.7, 0.8, 0.9, 1.0, 1.2, 1.5, 2.0, 2.6, 3.0}, &TagWish::px_per_mm, {},
                tags_a_point, seed);
}

void print_dirty(int tags_a_point, std::uint64_t seed) {
    fmt::print("\nDirty: as above, {} tags a point; % read\n", tags_a_point);
    for (const double px_per_mm : {2.0, 3.0}) {
        TagWish base;
        base.px_per_mm = px_per_mm;
        fmt::print("at {} px/mm             A       B    ours\n", px_per_mm);
        print_curve("grime", {0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6}, &TagWish::grime, base, tags_a_point, seed);
        print_curve("covered", {0.05, 0.1, 0.2, 0.3, 0.4}, &TagWish::covered, base, tags_a_point, seed);
        TagWish wired = base;
        wired.wire = true;
        print_point("wire", wired, tags_a_point, seed);
        TagWish torn = base;
        torn.torn = true;
        print_point("torn corner", torn, tags_a_point, seed);
        print_curve("glare", {0.3, 0.6, 1, 2}, &TagWish::glare, base, tags_a_point, seed);
        print_curve("shake px", {2, 3, 4, 5, 6, 7, 9}, &TagWish::shake_px, base, tags_a_point, seed);
        print_curve("exposure", {0.05, 0.1, 0.2, 0.5, 1.5, 2, 3, 4, 5}, &TagWish::gain, base, tags_a_point,
                    seed);
    }
}

}  // namespace stripbook::bench
