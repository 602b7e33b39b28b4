// A bag or part that turned out to be two gets a second tag.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/records.h"

namespace stripbook::book {

struct Split {
    number::TagNumber from;
    number::TagNumber to;             ///< the new tag
    std::vector<PhotoNumber> photos;  ///< that show what goes under the new tag
    std::optional<int> quantity;      ///< of what is present, how many go along
    std::string name;                 ///< empty: the same name
};

/// The new part begins with the assembly, place, parent and hazards of the old one; its photos are linked by
/// the person's word, and no longer to the old one. Throws WrongUse when the old part or a photo is unknown,
/// the new tag has a record of its own already, or more go along than are present. Link the photos anew in
/// the same transaction.
void split_part(Book& book, const Split& split, const std::string& who);

}  // namespace stripbook::book
