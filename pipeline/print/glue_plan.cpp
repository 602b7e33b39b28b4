#include "print/glue_plan.h"

#include <algorithm>
#include <optional>

#include "errors.h"

namespace stripbook::print {

namespace {

using Span = std::pair<double, double>;

// The last place at or before `wanted` that no span holds inside itself, when that is behind `from`.
std::optional<double> free_place(double from, double wanted, const std::vector<Span>& spans) {
    bool moved = true;
    while (moved) {
        moved = false;
        for (const auto& [begin, end] : spans) {
            if (wanted > begin && wanted < end) {
                wanted = begin;
                moved = true;
            }
        }
    }
    return wanted > from ? std::optional(wanted) : std::nullopt;
}

// Begin of every strip, and the end of the last; empty when a span is wider than a strip may be.
std::vector<double> seams(double length, double most, const std::vector<Span>& spans) {
    std::vector<double> at{0};
    while (length - at.back() > most) {
        const auto next = free_place(at.back(), at.back() + most, spans);
        if (!next) {
            return {};
        }
        at.push_back(*next);
    }
    at.push_back(length);
    return at;
}

std::optional<GluePlan> plan_on(const Paper& paper, double width, double height,
                                const std::vector<BoxMm>& kept_whole) {
    std::vector<Span> across;
    std::vector<Span> down;
    for (const BoxMm& box : kept_whole) {
        across.emplace_back(box.x, box.right());
        down.emplace_back(box.y, box.bottom());
    }
    const double taken = 2 * (printer_margin_mm + 1) + glue_tab_mm;
    const auto xs = seams(width, paper.width - taken, across);
    const auto ys = seams(height, paper.height - taken, down);
    if (xs.empty() || ys.empty()) {
        return std::nullopt;
    }
    GluePlan plan{paper, static_cast<int>(ys.size()) - 1, static_cast<int>(xs.size()) - 1,
                  {},    printer_margin_mm + 1,           printer_margin_mm + 1};
    for (std::size_t row = 0; row + 1 < ys.size(); ++row) {
        for (std::size_t column = 0; column + 1 < xs.size(); ++column) {
            plan.tiles.push_back({{xs[column], ys[row], xs[column + 1] - xs[column], ys[row + 1] - ys[row]},
                                  static_cast<int>(row),
                                  static_cast<int>(column)});
        }
    }
    return plan;
}

}  // namespace

GluePlan glue_plan(double width, double height, const std::vector<BoxMm>& kept_whole, const Paper& paper) {
    const auto upright = plan_on(paper, width, height, kept_whole);
    const auto lying = plan_on(paper.turned(), width, height, kept_whole);
    if (!upright && !lying) {
        throw WrongUse("a code of this sheet is larger than the paper: choose a larger paper");
    }
    if (!upright || (lying && lying->tiles.size() < upright->tiles.size())) {
        return *lying;
    }
    return *upright;
}

}  // namespace stripbook::print
