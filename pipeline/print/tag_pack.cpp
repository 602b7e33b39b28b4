#include "print/tag_pack.h"

#include <fmt/format.h>

#include "number/marker_layout.h"
#include "print/characters.h"
#include "print/code_drawing.h"
#include "print/cut_plan.h"
#include "print/instructions.h"
#include "print/pdf_document.h"
#include "print/printable_text.h"
#include "print/tag_face.h"

namespace stripbook::print {

namespace {

using number::TagLayout;

DocumentFacts facts_of(const std::string& title, const PackOptions& options) {
    return {title, "", "", "stripbook " + options.version, options.date};
}

struct TagSize {
    double scale;
    double width;
    double height;  ///< of one face
};

TagSize size_of(const book::PrintOrder& order) {
    const double scale = order.size == book::TagSize::small ? number::small_tag_scale : 1;
    return {scale, TagLayout::width * scale, TagLayout::height * scale};
}

// One piece: the tag, and above it the same face again where it is to be folded. Both stand upright: a tag
// that hangs by a wire at its left end flips about its long side, which is the fold.
void draw_piece(Sheet& sheet, const Lettering& lettering, const BoxMm& cell, const TagSize& size, bool fold,
                const TagToPrint& tag, const TagWords& words) {
    draw_tag(sheet, lettering, cell.x, cell.y, size.scale, tag.tag, words);
    if (fold) {
        const double middle = cell.y + size.height;
        draw_tag(sheet, lettering, cell.x, middle, size.scale, tag.tag, words);
        sheet.dashes(cell.x, middle, cell.right(), middle);
    }
}

// The text as it can be printed; what cannot is left out, since a tag has lines to write it on by hand.
std::string tag_text(const Lettering& lettering, const TagToPrint& tag, const std::string& text,
                     const std::string& what, std::vector<std::string>& remarks) {
    const std::u32string characters = characters_of(text);
    const std::string why = why_not_printable(characters, lettering);
    if (why.empty()) {
        return utf8_of(characters);
    }
    remarks.push_back(fmt::format("{}: the {} is {} and cannot be printed; write it on the tag by hand",
                                  tag.tag.text(), what, why));
    return "";
}

// The cells of the next page.
CutPlan page_plan(const book::PrintOrder& order, const TagSize& size) {
    const double height = order.fold ? 2 * size.height : size.height;
    if (order.paper == "roll") {
        return {{size.width, height}, {{0, 0, size.width, height}}, 1, 1};
    }
    return cut_plan(paper_named(order.paper), size.width, height);
}

Pack finished(PdfDocument& document, std::vector<std::string> remarks = {}) {
    document.print_at_true_size();
    Pack pack;
    pack.pages = static_cast<int>(document.sheets().size());
    pack.remarks = std::move(remarks);
    pack.bytes = document.bytes();
    return pack;
}

void draw_stage_card(Sheet& sheet, const Lettering& lettering, const BoxMm& cell, int identity) {
    using Card = number::StageCardLayout;
    for (const auto& centre : {Card::first_centre, Card::second_centre}) {
        const BoxMm square = square_around({cell.x + centre.x, cell.y + centre.y}, Card::fiducial_side);
        sheet.fill(fiducial_rectangles(fiducial::Family::tag25h9, identity, 0, square));
    }
    const std::string word(*number::stage_of_identity(identity));
    constexpr double side_margin = 8;
    constexpr double largest_pt = 34;
    const Type type = lettering.shrunk(word, {Face::bold, largest_pt}, cell.width - 2 * side_margin, 10);
    sheet.text_around(cell.x + cell.width / 2, cell.y + cell.height / 2 + 4, word, type);
}

}  // namespace

Pack tag_pack(const std::vector<TagToPrint>& tags, const book::PrintOrder& order,
              const PackOptions& options) {
    const Lettering lettering;
    const TagSize size = size_of(order);
    const CutPlan plan = page_plan(order, size);
    PdfDocument document(lettering, facts_of("Part tags", options));
    std::vector<std::string> remarks;
    Sheet* sheet = nullptr;
    for (std::size_t i = 0; i < tags.size(); ++i) {
        const std::size_t cell = i % plan.cells.size();
        if (cell == 0) {
            sheet = &document.add_sheet(plan.paper.width, plan.paper.height);
            if (order.paper != "roll") {
                draw_cut_marks(*sheet, plan);
            }
        }
        const TagWords words{tag_text(lettering, tags[i], tags[i].name, "name", remarks),
                             tag_text(lettering, tags[i], tags[i].place, "place", remarks)};
        draw_piece(*sheet, lettering, plan.cells[cell], size, order.fold, tags[i], words);
    }
    if (order.paper != "roll") {
        add_tag_instructions(document, paper_named(order.paper));
    }
    return finished(document, std::move(remarks));
}

Pack tag_instructions(const std::string& paper, const PackOptions& options) {
    const Lettering lettering;
    PdfDocument document(lettering, facts_of("Part tags: how to use them", options));
    add_tag_instructions(document, paper_named(paper));
    return finished(document);
}

Pack stage_card_pack(const std::string& paper, const PackOptions& options) {
    using Card = number::StageCardLayout;
    const Lettering lettering;
    PdfDocument document(lettering, facts_of("Stage cards", options));
    const CutPlan plan = cut_plan(paper_named(paper), Card::width, Card::height);
    Sheet* sheet = nullptr;
    for (std::size_t i = 0; i < static_cast<std::size_t>(number::stage_count); ++i) {
        if (i % plan.cells.size() == 0) {
            sheet = &document.add_sheet(plan.paper.width, plan.paper.height);
            draw_cut_marks(*sheet, plan);
        }
        draw_stage_card(*sheet, lettering, plan.cells[i % plan.cells.size()],
                        number::first_stage_identity + static_cast<int>(i));
    }
    add_stage_card_instructions(document, paper_named(paper));
    return finished(document);
}

}  // namespace stripbook::print
