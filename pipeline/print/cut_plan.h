// How many pieces of one size fit a sheet of paper, where they lie, and the marks to cut them by.
#pragma once

#include <vector>

#include "print/paper.h"
#include "print/sheet.h"

namespace stripbook::print {

struct CutPlan {
    Paper paper;               ///< turned when that holds more
    std::vector<BoxMm> cells;  ///< row by row, touching one another, in the middle of the page
    int columns = 0;
    int rows = 0;
};

/// Upright or lying, whichever holds more (upright when equal). Throws WrongUse when not one fits.
CutPlan cut_plan(const Paper& paper, double width, double height);

/// Ticks outside the block of cells at every cut; neighbours share theirs.
void draw_cut_marks(Sheet& sheet, const CutPlan& plan);

}  // namespace stripbook::print
