#include "print/ruled_table.h"

#include <algorithm>

namespace stripbook::print {

namespace {

constexpr double heading_row = 5;
constexpr double padding = 1.2;

void draw_headings(ReportFlow& flow, const std::vector<Column>& columns, const std::vector<double>& edges) {
    flow.sheet().line(flow.left(), flow.y(), flow.right(), flow.y(), rule_mm);
    for (std::size_t i = 0; i < columns.size(); ++i) {
        flow.sheet().text(edges[i] + (i == 0 ? 0 : padding), flow.y() + 3.5, columns[i].heading, type::label);
    }
    flow.move_down(heading_row);
    flow.sheet().line(flow.left(), flow.y(), flow.right(), flow.y());
}

std::vector<std::vector<std::string>> wrapped_cells(const ReportFlow& flow,
                                                    const std::vector<std::string>& cells,
                                                    const std::vector<double>& edges,
                                                    std::size_t most_lines) {
    std::vector<std::vector<std::string>> out;
    for (std::size_t i = 0; i < cells.size(); ++i) {
        const double width = edges[i + 1] - edges[i] - 2 * padding;
        out.push_back(flow.lettering().wrapped(cells[i], type::small, width, most_lines));
    }
    return out;
}

void draw_row(ReportFlow& flow, const std::vector<std::vector<std::string>>& cells,
              const std::vector<double>& edges, double height) {
    for (std::size_t i = 0; i < cells.size(); ++i) {
        double y = flow.y() + 0.8;
        for (const std::string& line : cells[i]) {
            y += line_height_mm(type::small);
            flow.sheet().text(edges[i] + (i == 0 ? 0 : padding), y - 0.8, line, type::small);
        }
    }
    flow.move_down(height);
    flow.sheet().line(flow.left(), flow.y(), flow.right(), flow.y());
}

// The cells wrapped, and how high the row comes with them.
struct Row {
    std::vector<std::vector<std::string>> cells;
    double height = 0;
};

std::vector<Row> laid_out(const ReportFlow& flow, const std::vector<std::vector<std::string>>& rows,
                          const std::vector<double>& edges, std::size_t most_lines) {
    std::vector<Row> out;
    out.reserve(rows.size());
    for (const auto& row : rows) {
        out.push_back({wrapped_cells(flow, row, edges, most_lines), 0});
        std::size_t lines = 1;
        for (const auto& cell : out.back().cells) {
            lines = std::max(lines, cell.size());
        }
        out.back().height = static_cast<double>(lines) * line_height_mm(type::small) + 1.6;
    }
    return out;
}

}  // namespace

std::vector<double> column_edges(const ReportFlow& flow, const std::vector<Column>& columns) {
    double all = 0;
    for (const Column& column : columns) {
        all += column.share;
    }
    std::vector<double> edges{flow.left()};
    for (const Column& column : columns) {
        edges.push_back(edges.back() + flow.width() * column.share / all);
    }
    return edges;
}

void draw_empty_table(ReportFlow& flow, const std::vector<Column>& columns, int rows, double row_height) {
    flow.reserve(heading_row + rows * row_height);
    const auto edges = column_edges(flow, columns);
    const double top = flow.y();
    draw_headings(flow, columns, edges);
    for (int i = 0; i < rows; ++i) {
        flow.move_down(row_height);
        flow.sheet().line(flow.left(), flow.y(), flow.right(), flow.y());
    }
    for (std::size_t i = 1; i + 1 < edges.size(); ++i) {
        flow.sheet().line(edges[i], top, edges[i], flow.y());
    }
}

void draw_text_table(ReportFlow& flow, const std::vector<Column>& columns,
                     const std::vector<std::vector<std::string>>& rows, std::size_t most_lines,
                     const RowDrawn& on_row) {
    const auto edges = column_edges(flow, columns);
    const auto laid = laid_out(flow, rows, edges, most_lines);
    const Sheet* headed = nullptr;
    for (std::size_t i = 0; i < laid.size(); ++i) {
        // The last row does not go to a new page alone.
        const double with_it = i + 2 == laid.size() ? laid[i + 1].height : 0;
        flow.reserve(laid[i].height + with_it + (headed == nullptr ? heading_row : 0));
        if (headed != &flow.sheet()) {
            draw_headings(flow, columns, edges);
            headed = &flow.sheet();
        }
        draw_row(flow, laid[i].cells, edges, laid[i].height);
        if (on_row) {
            on_row(i, {flow.left(), flow.y() - laid[i].height, flow.width(), laid[i].height});
        }
    }
}

double text_table_height(const ReportFlow& flow, const std::vector<Column>& columns,
                         const std::vector<std::vector<std::string>>& rows, std::size_t most_lines) {
    double height = heading_row;
    for (const auto& row : laid_out(flow, rows, column_edges(flow, columns), most_lines)) {
        height += row.height;
    }
    return height;
}

}  // namespace stripbook::print
