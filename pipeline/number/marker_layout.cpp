#include "number/marker_layout.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>

#include "errors.h"

namespace stripbook::number {

namespace {

std::string in_capitals(std::string text) {
    std::transform(text.begin(), text.end(), text.begin(),
                   [](char c) { return c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c; });
    return text;
}

// The check lines are as long as the free space and a common caliper (150 mm) allow, in round figures, just
// inside the frame: the strip outside it lies where printers do not print.
MarkerLayout pocket() {
    MarkerLayout layout{
        "pocket", 85.6, 53.98, 14, {{0, {10, 10}}, {1, {75.6, 10}}, {2, {75.6, 43.98}}, {3, {10, 43.98}}}};
    layout.qr_centre = {42.8, 10};
    layout.qr_side = 12.6;
    layout.check_across = {{2.8, 21}, {82.8, 21}};
    layout.check_along = {{21, 2}, {21, 52}};
    return layout;
}

MarkerLayout bench() {
    MarkerLayout layout{"bench",
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
    layout.qr_centre = {85.25, 22};
    layout.qr_side = 21;
    layout.check_across = {{44, 40}, {144, 40}};
    layout.check_along = {{40, 44}, {40, 144}};
    layout.corner_mark_inset = 4;
    return layout;
}

// Clockwise around the edge from the top-left corner.
MarkerLayout mat() {
    constexpr std::array<double, 5> xs{34, 227.25, 420.5, 613.75, 807};
    constexpr std::array<double, 5> ys{34, 165.5, 297, 428.5, 560};
    MarkerLayout layout{"mat", 841, 594, 42, {}};
    layout.qr_centre = {130.625, 34};
    layout.qr_side = 42;
    layout.check_across = {{62, 66}, {182, 66}};
    layout.check_along = {{64, 72}, {64, 192}};
    layout.corner_mark_inset = 4;
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

const MarkerLayout& marker_layout(std::string_view kind) {
    for (const auto& layout : marker_layouts()) {
        if (layout.kind == kind) {
            return layout;
        }
    }
    throw WrongUse(fmt::format("\"{}\" is no scale marker: there are pocket, bench and mat", kind));
}

std::string marker_sheet_text(const MarkerLayout& layout, int sheet_number) {
    return fmt::format("MARKER-{}-{:04}", in_capitals(layout.kind), sheet_number);
}

std::optional<MarkerSheetName> marker_sheet_from_text(std::string_view text) {
    constexpr std::size_t digits = 4;
    for (const auto& layout : marker_layouts()) {
        const std::string begin = "MARKER-" + in_capitals(layout.kind) + "-";
        const bool fits = text.size() == begin.size() + digits && text.substr(0, begin.size()) == begin;
        int number = 0;
        if (!fits || text.find_first_not_of("0123456789", begin.size()) != std::string_view::npos) {
            continue;
        }
        std::from_chars(text.data() + begin.size(), text.data() + text.size(), number);
        return number > 0 ? std::optional(MarkerSheetName{layout.kind, number}) : std::nullopt;
    }
    return std::nullopt;
}

std::optional<std::string_view> stage_of_identity(int identity) {
    constexpr int first = first_stage_identity;
    constexpr std::array<std::string_view, stage_count> stages{
        "as-removed", "cleaned", "inspected", "blasted", "mock-up", "painted", "refitted"};
    if (identity < first || identity >= first + static_cast<int>(stages.size())) {
        return std::nullopt;
    }
    return stages[static_cast<std::size_t>(identity - first)];
}

}  // namespace stripbook::number
