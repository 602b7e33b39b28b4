// One part on a refit sheet: planned first, so that no page break falls inside it, then drawn.
#pragma once

#include <string>
#include <vector>

#include "print/printable_text.h"
#include "print/refit_facts.h"
#include "print/refit_pictures.h"
#include "print/refit_sheet_content.h"
#include "print/sheet.h"

namespace stripbook::print {

/// A photo with its size on paper and what stands below it.
struct PlacedPhoto {
    SheetPhoto photo;
    double width = 0;
    double height = 0;
    std::string caption;
};

/// What stands on one page; a part that does not fit on one goes on over whole pages.
struct BlockPage {
    bool first = true;
    bool last = true;
    std::vector<PlacedPhoto> photos;  ///< at most two
    std::vector<FactLine> facts;
    double height = 0;
};

struct Block {
    const RefitSheetPart* part = nullptr;
    std::string name;
    std::string goes_to;
    std::string lies_in;
    std::vector<FactLine> standing;
    std::vector<FactLine> cautions;
    double facts_x = 0;  ///< of the column, from the block's left edge
    std::vector<BlockPage> pages;
};

/// `page`: the body of a page; its x and width are the block's. The photos must be loaded. `part` must
/// outlive the block.
Block plan_block(const RefitSheetPart& part, const RefitPictures& pictures, PrintableText& printable,
                 const Lettering& lettering, const BoxMm& page, bool in_inches);

/// Draws one page of it with its top at `y`. Returns how many photos are shown.
int draw_block_page(Sheet& sheet, const Lettering& lettering, const Block& block, const BlockPage& page,
                    const RefitPictures& pictures, const BoxMm& body, double y);

}  // namespace stripbook::print
