// A page in plain words that goes with every printed pack.
#pragma once

#include "number/marker_layout.h"
#include "print/paper.h"
#include "print/pdf_document.h"

namespace stripbook::print {

void add_tag_instructions(PdfDocument& document, const Paper& paper);
void add_stage_card_instructions(PdfDocument& document, const Paper& paper);
/// `pieces`: sheets of paper that the marker is glued from, 1 when it is not.
void add_marker_instructions(PdfDocument& document, const Paper& paper, const number::MarkerLayout& layout,
                             int pieces);

}  // namespace stripbook::print
