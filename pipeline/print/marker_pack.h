// Scale markers as a PDF to print.
#pragma once

#include <string>
#include <vector>

#include "number/marker_layout.h"
#include "print/pack.h"

namespace stripbook::print {

/// How a kind of marker comes onto paper.
enum class MarkerForm {
    cards,  ///< several on a sheet, to be cut out (pocket)
    whole,  ///< one a page, the page being the marker (bench on A4, mat on A1)
    glued,  ///< split over several sheets of paper
};

/// bench and mat are whole unless `split` or, for bench, the paper is US Letter, which is too short for it.
MarkerForm marker_form(const number::MarkerLayout& layout, const std::string& paper, bool split);

/// Sheets of paper that one marker is glued from; 1 when it is not.
int marker_pieces(const number::MarkerLayout& layout, const std::string& paper, bool split);

/// The sheets of one kind with these numbers, then a page of instructions on `paper` ("a4" or "letter").
Pack marker_pack(const number::MarkerLayout& layout, const std::vector<int>& sheet_numbers,
                 const std::string& paper, bool split, const PackOptions& options);

}  // namespace stripbook::print
