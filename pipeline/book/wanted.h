// Parts that somebody outside is to supply, make or repair, and that have not come yet.
#pragma once

#include <string>
#include <vector>

#include "book/book.h"
#include "book/part_path.h"
#include "book/records.h"

namespace stripbook::book {

struct WantedPart {
    explicit WantedPart(Part p) : part(std::move(p)) {}
    Part part;
    PathRecord path;
    std::vector<Work> open_works;
    int quantity = 1;  ///< as many as the machine should have; one where nobody said
};

/// The paths that send something out.
bool can_be_wanted(const Part& part);

/// A part as a dealer or a shop is asked for it, received or not. Throws WrongUse when its path sends nothing
/// out, and for an unknown part.
WantedPart wanted_part(const Book& book, const number::TagNumber& tag);

/// By tag: to buy and to make, not received; to repair, not received, with a shop named or work still to do.
std::vector<WantedPart> wanted_parts(const Book& book);

}  // namespace stripbook::book
