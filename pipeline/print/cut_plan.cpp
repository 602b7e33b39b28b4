#include "print/cut_plan.h"

#include <fmt/format.h>

#include <algorithm>

#include "errors.h"

namespace stripbook::print {

namespace {

CutPlan plan_on(const Paper& paper, double width, double height) {
    CutPlan plan{paper, {}, 0, 0};
    plan.columns = static_cast<int>((paper.width - 2 * printer_margin_mm) / width);
    plan.rows = static_cast<int>((paper.height - 2 * printer_margin_mm) / height);
    const double left = (paper.width - plan.columns * width) / 2;
    const double top = (paper.height - plan.rows * height) / 2;
    for (int row = 0; row < plan.rows; ++row) {
        for (int column = 0; column < plan.columns; ++column) {
            plan.cells.push_back({left + column * width, top + row * height, width, height});
        }
    }
    return plan;
}

// A tick's distance from the block and its end, so that cutting leaves no ink on the piece.
constexpr double tick_gap = 1;
constexpr double tick_length = 4;

}  // namespace

CutPlan cut_plan(const Paper& paper, double width, double height) {
    CutPlan upright = plan_on(paper, width, height);
    CutPlan lying = plan_on(paper.turned(), width, height);
    CutPlan& best = lying.cells.size() > upright.cells.size() ? lying : upright;
    if (best.cells.empty()) {
        throw WrongUse(fmt::format("a piece of {:.1f} x {:.1f} mm does not fit paper of {:.1f} x {:.1f} mm",
                                   width, height, paper.width, paper.height));
    }
    return best;
}

void draw_cut_marks(Sheet& sheet, const CutPlan& plan) {
    const BoxMm& first = plan.cells.front();
    const double right = plan.cells.back().right();
    const double bottom = plan.cells.back().bottom();
    for (int column = 0; column <= plan.columns; ++column) {
        const double x = first.x + column * first.width;
        sheet.line(x, first.y - tick_gap, x, first.y - tick_gap - tick_length);
        sheet.line(x, bottom + tick_gap, x, bottom + tick_gap + tick_length);
    }
    for (int row = 0; row <= plan.rows; ++row) {
        const double y = first.y + row * first.height;
        sheet.line(first.x - tick_gap, y, first.x - tick_gap - tick_length, y);
        sheet.line(right + tick_gap, y, right + tick_gap + tick_length, y);
    }
}

}  // namespace stripbook::print
