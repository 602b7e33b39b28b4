// A part that was tagged twice becomes one record.
#pragma once

#include <string>
#include <vector>

#include "book/book.h"
#include "book/records.h"

namespace stripbook::book {

/// Everything said of `other` is said of `kept` from now on: photos, inspection, measurements, work, stages,
/// refit notes, hazards, fasteners, parts taken from it. Fields that are blank on `kept` are taken over;
/// where both say something, `kept`'s stands. The number of `other` goes on meaning `kept` (tag_meanings.h);
/// the history keeps what was said of it. Returns what of `other` does not stand any more, in words
/// ("storage: Rack C"). Link the photos anew in the same transaction. Throws WrongUse when one is unknown,
/// both are the same, or one was taken from the other.
std::vector<std::string> merge_parts(Book& book, const number::TagNumber& kept,
                                     const number::TagNumber& other, const std::string& who);

}  // namespace stripbook::book
