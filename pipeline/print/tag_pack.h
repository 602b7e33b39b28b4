// Tags as a PDF to print, cut and wire on.
#pragma once

#include <string>
#include <vector>

#include "book/print_runs.h"
#include "book/records.h"
#include "print/pack.h"

namespace stripbook::print {

/// One tag to print; without a part it is a blank one.
struct TagToPrint {
    number::TagNumber tag;
    std::string name;
    std::string place;
};

/// The tags of `order` (its size, paper and fold) in the order of `tags`, then a page of instructions; on a
/// roll every tag is a page of its own size and the instructions are a pack of their own
/// (tag_instructions). Throws WrongUse for an unknown paper, OutsideError when the PDF cannot be made.
Pack tag_pack(const std::vector<TagToPrint>& tags, const book::PrintOrder& order, const PackOptions& options);

/// The page of instructions alone, on A4 or US Letter.
Pack tag_instructions(const std::string& paper, const PackOptions& options);

/// One card for each stage, the instructions with them.
Pack stage_card_pack(const std::string& paper, const PackOptions& options);

}  // namespace stripbook::print
