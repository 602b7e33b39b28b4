#include "measure/standard_size.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace stripbook::measure {

namespace {

constexpr double inch = 25.4;

void add_clearance_holes(std::vector<StandardSize>& sizes) {
    struct Row {
        int nominal;
        std::array<double, 3> fine_medium_coarse;
    };
    // ISO 273:1979.
    constexpr std::array<Row, 5> rows{{{6, {6.4, 6.6, 7}},
                                       {8, {8.4, 9, 10}},
                                       {10, {10.5, 11, 12}},
                                       {12, {13, 13.5, 14.5}},
                                       {16, {17, 17.5, 18.5}}}};
    constexpr std::array<const char*, 3> fits{"fine", "medium", "coarse"};
    for (const auto& row : rows) {
        for (std::size_t i = 0; i < fits.size(); ++i) {
            sizes.push_back({fmt::format("M{} clearance, {} (ISO 273)", row.nominal, fits[i]),
                             row.fine_medium_coarse[i]});
        }
    }
}

struct InchThread {
    const char* name;
    double major_in;
    double per_inch;
};

void add_whitworth(std::vector<StandardSize>& sizes) {
    constexpr std::array<InchThread, 7> threads{{{"1/4", 0.25, 20},
                                                 {"5/16", 0.3125, 18},
                                                 {"3/8", 0.375, 16},
                                                 {"1/2", 0.5, 12},
                                                 {"5/8", 0.625, 11},
                                                 {"3/4", 0.75, 10},
                                                 {"1", 1, 8}}};
    constexpr double depth = 0.640327;  // of the pitch, BS 84
    for (const auto& t : threads) {
        sizes.push_back({fmt::format("{} BSW, major diameter", t.name), t.major_in * inch});
        sizes.push_back({fmt::format("{} BSW, core of a tapped hole", t.name),
                         (t.major_in - 2 * depth / t.per_inch) * inch});
    }
}

void add_unified(std::vector<StandardSize>& sizes) {
    constexpr std::array<InchThread, 7> threads{{{"1/4", 0.25, 20},
                                                 {"5/16", 0.3125, 18},
                                                 {"3/8", 0.375, 16},
                                                 {"7/16", 0.4375, 14},
                                                 {"1/2", 0.5, 13},
                                                 {"5/8", 0.625, 11},
                                                 {"3/4", 0.75, 10}}};
    constexpr double depth = 1.0825318;  // of the pitch, both flanks: ISO 68-1, ASME B1.1
    for (const auto& t : threads) {
        sizes.push_back({fmt::format("{} UNC, major diameter", t.name), t.major_in * inch});
        sizes.push_back(
            {fmt::format("{} UNC, core of a tapped hole", t.name), (t.major_in - depth / t.per_inch) * inch});
    }
}

}  // namespace

const std::vector<StandardSize>& standard_hole_sizes() {
    static const std::vector<StandardSize> sizes = [] {
        std::vector<StandardSize> all;
        add_clearance_holes(all);
        add_whitworth(all);
        add_unified(all);
        return all;
    }();
    return sizes;
}

std::vector<StandardSize> nearest_standard_sizes(double diameter_mm, double expanded) {
    const auto off = [&](const StandardSize& size) { return std::abs(size.diameter_mm - diameter_mm); };
    std::vector<StandardSize> near;
    for (const auto& size : standard_hole_sizes()) {
        if (off(size) <= expanded) {
            near.push_back(size);
        }
    }
    std::stable_sort(near.begin(), near.end(), [&](const auto& a, const auto& b) { return off(a) < off(b); });
    constexpr std::size_t most = 3;
    near.resize(std::min(near.size(), most));
    return near;
}

}  // namespace stripbook::measure
