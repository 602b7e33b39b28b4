// What only the sheets for dealers and shops have: their head, the list before several, the lines to answer
// on.
#pragma once

#include <string>
#include <vector>

#include "book/wanted.h"
#include "print/report_sections.h"
#include "print/ruled_table.h"

namespace stripbook::print {

/// "To buy", "To make", "To repair".
std::string wanted_words(const std::string& path);

/// Machine, workshop, what is asked for, name, our number, quantity, drawing, material, work.
void draw_wanted_head(ReportDesk& desk, int quantity);

/// What the sheet is not, and what is dangerous about the part.
void draw_wanted_cautions(ReportDesk& desk);

void draw_answer_lines(ReportFlow& flow);

/// One row a part; `page`: of the document, from 0.
struct WantedRow {
    std::vector<std::string> cells;  ///< number, part, what, quantity, page
    std::size_t to_page = 0;
};
void draw_wanted_list(ReportFlow& flow, const std::vector<WantedRow>& rows, const RowDrawn& on_row);

}  // namespace stripbook::print
