#include "print/progress_chart.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <vector>

#include "book/records.h"

namespace stripbook::print {

namespace {

constexpr double row_height = 8;
constexpr double bar_height = 5.6;
constexpr double words_width = 22;
constexpr double count_width = 10;
constexpr double legend_row = 6.5;
constexpr int legend_columns = 4;
constexpr std::size_t stages = book::stage_words.size() + 1;  // and not known
constexpr std::size_t legend_rows = (stages + legend_columns - 1) / legend_columns;

const char* stage_at(std::size_t index) {
    return index < book::stage_words.size() ? book::stage_words[index] : "";
}

// From white to black as the work goes on; a stage that is not known is crossed.
void fill(Sheet& sheet, const BoxMm& box, std::size_t stage) {
    constexpr double wide = 2.2;
    constexpr double narrow = 1.0;
    switch (stage) {
        case 0:
            break;
        case 1:
            sheet.hatch(box, wide, 1);
            break;
        case 2:
            sheet.hatch(box, narrow, 1);
            break;
        case 3:
            sheet.hatch(box, narrow, 0);
            break;
        case 4:
            sheet.hatch(box, wide, 1);
            sheet.hatch(box, wide, -1);
            break;
        case 5:
            sheet.hatch(box, narrow, 1);
            sheet.hatch(box, narrow, -1);
            break;
        case 6:
            sheet.fill({box});
            break;
        default:
            sheet.dashes(box.x, box.y + box.height / 2, box.right(), box.y + box.height / 2);
            break;
    }
    sheet.frame(box, 0.25);
}

int count_of(const ProgressCounts& counts, const std::string& path, std::size_t stage) {
    const auto row = counts.find(path);
    if (row == counts.end()) {
        return 0;
    }
    const auto cell = row->second.find(stage_at(stage));
    return cell == row->second.end() ? 0 : cell->second;
}

int count_of(const ProgressCounts& counts, const std::string& path) {
    int all = 0;
    for (std::size_t stage = 0; stage < stages; ++stage) {
        all += count_of(counts, path, stage);
    }
    return all;
}

void draw_bar(ReportFlow& flow, const ProgressCounts& counts, const std::string& path, double mm_per_part) {
    Sheet& sheet = flow.sheet();
    const int all = count_of(counts, path);
    const Type& type = all > 0 ? type::body_bold : type::body;
    sheet.text(flow.left(), flow.y() + bar_height - 1.4, path, type);
    double x = flow.left() + words_width;
    for (std::size_t stage = 0; stage < stages; ++stage) {
        const double width = count_of(counts, path, stage) * mm_per_part;
        if (width > 0) {
            fill(sheet, {x, flow.y(), width, bar_height}, stage);
        }
        x += width;
    }
    sheet.text(x + 1.5, flow.y() + bar_height - 1.4, std::to_string(all), type);
    flow.move_down(row_height);
}

void draw_legend(ReportFlow& flow, const ProgressCounts& counts) {
    const double column = flow.width() / legend_columns;
    const double top = flow.y();
    for (std::size_t stage = 0; stage < stages; ++stage) {
        int all = 0;
        for (const char* path : book::path_words) {
            all += count_of(counts, path, stage);
        }
        const double x = flow.left() + static_cast<double>(stage % legend_columns) * column;
        const std::size_t row = stage / legend_columns;
        const double y = top + static_cast<double>(row) * legend_row;
        fill(flow.sheet(), {x, y, 8, 4}, stage);
        const std::string words =
            stage < book::stage_words.size() ? book::stage_words[stage] : std::string("stage not known");
        flow.sheet().text(x + 10, y + 3.1, fmt::format("{}: {}", words, all), type::small);
    }
    flow.move_down(legend_row * legend_rows);
}

}  // namespace

double progress_chart_height() {
    return static_cast<double>(book::path_words.size()) * row_height + 3 + legend_row * legend_rows;
}

void draw_progress_chart(ReportFlow& flow, const ProgressCounts& counts) {
    flow.reserve(progress_chart_height());
    int most = 1;
    for (const char* path : book::path_words) {
        most = std::max(most, count_of(counts, path));
    }
    const double mm_per_part = (flow.width() - words_width - count_width) / most;
    const double top = flow.y();
    for (const char* path : book::path_words) {
        draw_bar(flow, counts, path, mm_per_part);
    }
    const double axis = flow.left() + words_width;
    flow.sheet().line(axis, top - 1, axis, flow.y() - row_height + bar_height + 1, rule_mm);
    flow.move_down(3);
    draw_legend(flow, counts);
}

}  // namespace stripbook::print
