// The facts of a part on its refit sheet as lines that fit into a column.
#pragma once

#include <string>
#include <vector>

#include "print/printable_text.h"
#include "print/refit_sheet_content.h"

namespace stripbook::print {

/// One line, read at arm's length.
struct FactLine {
    std::string text;
    Type type;
    bool tick = false;       ///< a box to tick stands before it
    double indent = 0;       ///< mm
    double space_above = 0;  ///< mm
    [[nodiscard]] double height() const { return space_above + line_height_mm(type); }
};

double height_of(const std::vector<FactLine>& lines);

/// The notes by kind, each with a box to tick; empty where there are none.
std::vector<FactLine> fact_lines(const RefitSheetPart& part, PrintableText& printable,
                                 const Lettering& lettering, double width, bool in_inches);

/// Cautions, and that local codes and licensed practice come first; empty where there are none.
std::vector<FactLine> caution_lines(const RefitSheetPart& part, PrintableText& printable,
                                    const Lettering& lettering, double width);

/// That it is in place already, what it goes in together with, or what holds it up.
std::vector<FactLine> standing_lines(const RefitSheetPart& part, PrintableText& printable,
                                     const Lettering& lettering, double width);

}  // namespace stripbook::print
