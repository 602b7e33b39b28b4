#include "print/marker_pack.h"

#include <fmt/format.h>

#include "print/cut_plan.h"
#include "print/glue_plan.h"
#include "print/instructions.h"
#include "print/marker_face.h"
#include "print/pdf_document.h"

namespace stripbook::print {

namespace {

using number::MarkerLayout;

void add_cards(PdfDocument& document, const MarkerLayout& layout, const std::vector<int>& numbers,
               const Paper& paper) {
    const CutPlan plan = cut_plan(paper, layout.width, layout.height);
    Sheet* sheet = nullptr;
    for (std::size_t i = 0; i < numbers.size(); ++i) {
        const BoxMm& cell = plan.cells[i % plan.cells.size()];
        if (i % plan.cells.size() == 0) {
            sheet = &document.add_sheet(plan.paper.width, plan.paper.height);
            draw_cut_marks(*sheet, plan);
        }
        draw_marker(*sheet, document.lettering(), layout, numbers[i], {0, 0, layout.width, layout.height},
                    cell.x, cell.y, false);
    }
}

void add_whole(PdfDocument& document, const MarkerLayout& layout, const std::vector<int>& numbers) {
    for (const int number : numbers) {
        Sheet& sheet = document.add_sheet(layout.width, layout.height);
        draw_marker(sheet, document.lettering(), layout, number, {0, 0, layout.width, layout.height}, 0, 0,
                    false);
    }
}

GluePlan plan_of(const MarkerLayout& layout, const Paper& paper) {
    return glue_plan(layout.width, layout.height, marker_items(layout), paper);
}

// Two crosses on every seam: each neighbour prints half of each, so that they show whether the pieces sit.
void draw_seam_marks(Sheet& sheet, const BoxMm& box, bool upright, double at) {
    constexpr double arm = 3;
    for (const double share : {0.2, 0.8}) {
        if (upright) {
            const double y = box.y + share * box.height;
            sheet.line(at - arm, y, at + arm, y);
        } else {
            const double x = box.x + share * box.width;
            sheet.line(x, at - arm, x, at + arm);
        }
    }
}

void draw_tile_marks(Sheet& sheet, const GluePlan& plan, const GlueTile& tile, const BoxMm& box,
                     const std::string& name) {
    const Type type{Face::regular, 6};
    const bool last_column = tile.column + 1 == plan.columns;
    const bool last_row = tile.row + 1 == plan.rows;
    // The edges of the piece: on the left and above to cut along, on the right and below to lay the next on.
    sheet.line(box.x, box.y, box.x, box.bottom());
    sheet.line(box.x, box.y, box.right(), box.y);
    sheet.line(box.right(), box.y, box.right(), box.bottom());
    sheet.line(box.x, box.bottom(), box.right(), box.bottom());
    if (tile.column > 0) {
        draw_seam_marks(sheet, box, true, box.x);
    }
    if (tile.row > 0) {
        draw_seam_marks(sheet, box, false, box.y);
    }
    if (!last_column) {
        draw_seam_marks(sheet, box, true, box.right());
    }
    if (!last_row) {
        draw_seam_marks(sheet, box, false, box.bottom());
    }
    const std::string place = fmt::format("{}: row {} of {}, column {} of {}", name, tile.row + 1, plan.rows,
                                          tile.column + 1, plan.columns);
    const std::string glue = last_row ? "cut off here" : "glue: the piece below lies over this strip";
    sheet.text(box.x + 2, box.bottom() + 5, place + "   " + glue, type);
    if (!last_column) {
        sheet.text(box.right() + 1.5, box.y + 4, "glue", type);
    }
}

void add_glued(PdfDocument& document, const MarkerLayout& layout, const std::vector<int>& numbers,
               const Paper& paper) {
    const GluePlan plan = plan_of(layout, paper);
    for (const int number : numbers) {
        const std::string name = fmt::format("{} {:04}", layout.kind, number);
        for (const GlueTile& tile : plan.tiles) {
            Sheet& sheet = document.add_sheet(plan.paper.width, plan.paper.height);
            const BoxMm box{plan.page_left, plan.page_top, tile.region.width, tile.region.height};
            draw_marker(sheet, document.lettering(), layout, number, tile.region, box.x, box.y, true);
            draw_tile_marks(sheet, plan, tile, box, name);
        }
    }
}

}  // namespace

MarkerForm marker_form(const MarkerLayout& layout, const std::string& paper, bool split) {
    if (layout.kind == "pocket") {
        return MarkerForm::cards;
    }
    const bool too_long = layout.kind == "bench" && paper == "letter";
    return split || too_long ? MarkerForm::glued : MarkerForm::whole;
}

int marker_pieces(const MarkerLayout& layout, const std::string& paper, bool split) {
    return marker_form(layout, paper, split) == MarkerForm::glued
               ? static_cast<int>(plan_of(layout, paper_named(paper)).tiles.size())
               : 1;
}

Pack marker_pack(const MarkerLayout& layout, const std::vector<int>& sheet_numbers, const std::string& paper,
                 bool split, const PackOptions& options) {
    const Lettering lettering;
    PdfDocument document(
        lettering, {"Scale marker: " + layout.kind, "", "", "stripbook " + options.version, options.date});
    const Paper on = paper_named(paper);
    switch (marker_form(layout, paper, split)) {
        case MarkerForm::cards:
            add_cards(document, layout, sheet_numbers, on);
            break;
        case MarkerForm::whole:
            add_whole(document, layout, sheet_numbers);
            break;
        case MarkerForm::glued:
            add_glued(document, layout, sheet_numbers, on);
            break;
    }
    add_marker_instructions(document, on, layout, marker_pieces(layout, paper, split));
    document.print_at_true_size();
    Pack pack;
    pack.pages = static_cast<int>(document.sheets().size());
    pack.bytes = document.bytes();
    return pack;
}

}  // namespace stripbook::print
