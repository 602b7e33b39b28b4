#include "number/marker_layout.h"

#include <algorithm>
#include <array>

namespace stripbook::number {

namespace {

MarkerLayout pocket() {
    return {
        "pocket", 85.6, 53.98, 14, {{0, {10, 10}}, {1, {75.6, 10}}, {2, {75.6, 43.98}}, {3, {10, 43.98}}}};
}

MarkerLayout bench() {
    return {"bench",
            297,
            210,
            25.2,
            {{4, {22, 22}},
             {5, {148.5, 22}},
             {6, {275, 22}},
             {7, {275, 105}},
             {8, {275, 188}},
             {9, {148.5, 188}},
             {10, {22, 188}},
             {11, {22, 105}}}};
}

// Clockwise around the edge from the top-left corner.
MarkerLayout mat() {
    constexpr std::array<double, 5> xs{34, 227.25, 420.5, 613.75, 807};
    constexpr std::array<double, 5> ys{34, 165.5, 297, 428.5, 560};
    MarkerLayout layout{"mat", 841, 594, 42, {}};
    const auto put = [&](double x, double y) {
        layout.fiducials.push_back({12 + static_cast<int>(layout.fiducials.size()), {x, y}});
    };
    for (std::size_t i = 0; i < 5; ++i) {
        put(xs[i], ys[0]);
    }
    for (std::size_t i = 1; i < 5; ++i) {
        put(xs[4], ys[i]);
    }
    for (std::size_t i = 4; i-- > 0;) {
        put(xs[i], ys[4]);
    }
    for (std::size_t i = 3; i >= 1; --i) {
        put(xs[0], ys[i]);
    }
    return layout;
}

}  // namespace

const std::vector<MarkerLayout>& marker_layouts() {
    static const std::vector<MarkerLayout> layouts{pocket(), bench(), mat()};
    return layouts;
}

const MarkerLayout* marker_with_identity(int identity) {
    for (const auto& layout : marker_layouts()) {
        const auto has = [&](const MarkerFiducial& f) { return f.identity == identity; };
        if (std::any_of(layout.fiducials.begin(), layout.fiducials.end(), has)) {
            return &layout;
        }
    }
    return nullptr;
}

std::optional<std::string_view> stage_of_identity(int identity) {
    constexpr int first = 28;
    constexpr std::array<std::string_view, 7> stages{"as-removed", "cleaned", "inspected", "blasted",
                                                     "mock-up",    "painted", "refitted"};
    if (identity < first || identity >= first + static_cast<int>(stages.size())) {
        return std::nullopt;
    }
    return stages[static_cast<std::size_t>(identity - first)];
}

}  // namespace stripbook::number
