// A large sheet split over several sheets of paper that are glued together: where the seams run.
#pragma once

#include <utility>
#include <vector>

#include "print/paper.h"
#include "print/sheet.h"

namespace stripbook::print {

/// One sheet of paper's share. Its left and top edge is cut along and glued over the neighbour's tab; the
/// tabs are on the right and below.
struct GlueTile {
    BoxMm region;  ///< of the large sheet, mm from its top-left corner
    int row = 0;
    int column = 0;
};

struct GluePlan {
    Paper paper;  ///< turned when that takes fewer sheets
    int rows = 0;
    int columns = 0;
    std::vector<GlueTile> tiles;  ///< row by row
    /// Where a tile's region begins on the paper, mm.
    double page_left = 0;
    double page_top = 0;
};

inline constexpr double glue_tab_mm = 10;

/// `kept_whole`: boxes of the large sheet that no seam may cross (codes and lines, with their white). Throws
/// WrongUse when one of them is larger than the paper.
GluePlan glue_plan(double width, double height, const std::vector<BoxMm>& kept_whole, const Paper& paper);

}  // namespace stripbook::print
