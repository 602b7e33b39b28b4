// Finding parts by tag number or by words.
#pragma once

#include <string>
#include <vector>

#include "book/book.h"
#include "book/records.h"

namespace stripbook::find {

/// Letters folded for comparing: case and accents taken off ("Krümmer" and "KRUMMER" are the same),
/// compatible forms made equal. By utf8proc (Unicode default case folding, canonical decomposition).
std::string folded(const std::string& text);

/// A tag number as typed gives that part; else every part in whose number, name, assembly, place, storage,
/// condition, path or notes each of the words occurs, the ones with more words in the name first, then by
/// number. Empty when none. Throws WrongUse for a tag number typed wrongly (a check character that does not
/// fit).
std::vector<book::Part> find_parts(const book::Book& book, const std::vector<std::string>& typed);

}  // namespace stripbook::find
