// A scale marker sheet, drawn to the figures of docs/tag-code.md: whole, or the share of it on one sheet of
// paper.
#pragma once

#include <vector>

#include "number/marker_layout.h"
#include "print/sheet.h"

namespace stripbook::print {

/// Everything on the marker that no seam may cross: codes with their white, check lines, words.
std::vector<BoxMm> marker_items(const number::MarkerLayout& layout);

/// Draws what lies in `region` (mm of the marker) so that the region's top-left corner comes to (x, y) mm of
/// the page. `glued`: with corner marks to measure the outer sides from.
void draw_marker(Sheet& sheet, const Lettering& lettering, const number::MarkerLayout& layout,
                 int sheet_number, const BoxMm& region, double x, double y, bool glued);

}  // namespace stripbook::print
