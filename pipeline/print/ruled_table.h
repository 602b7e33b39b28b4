// Tables with hairlines, either to write in or with wrapped text.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "print/report_flow.h"

namespace stripbook::print {

struct Column {
    std::string heading;
    double share = 1;  ///< of the width, relative to the other columns
};

/// Headings and `rows` empty rows of `row_height` to write in. Kept on one page.
void draw_empty_table(ReportFlow& flow, const std::vector<Column>& columns, int rows, double row_height);

/// Told of each row where it was drawn, on the page that the flow then fills.
using RowDrawn = std::function<void(std::size_t row, const BoxMm& box)>;

/// Headings and the given cells, each wrapped to at most `most_lines`. Breaks over pages between rows, though
/// not before the last one, and says the headings again there.
void draw_text_table(ReportFlow& flow, const std::vector<Column>& columns,
                     const std::vector<std::vector<std::string>>& rows, std::size_t most_lines,
                     const RowDrawn& on_row = {});

/// How high that table is on one page, mm.
double text_table_height(const ReportFlow& flow, const std::vector<Column>& columns,
                         const std::vector<std::vector<std::string>>& rows, std::size_t most_lines);

/// Left edges of the columns, and the right edge of the last.
std::vector<double> column_edges(const ReportFlow& flow, const std::vector<Column>& columns);

}  // namespace stripbook::print
