// Finding parts by tag number or by words.
#pragma once

#include <string>
#include <vector>

#include "book/book.h"
#include "book/records.h"

namespace stripbook::find {

struct Wanted {
    std::vector<std::string> typed;  ///< a tag number, or words
    std::vector<std::string> place;  ///< words
    std::vector<std::string> assembly;
    std::string path;
};

struct Found {
    std::vector<book::Part> parts;
    std::size_t all = 0;  ///< how many there are; at most 200 are given
};

/// A tag number as typed gives that part; else the parts in whose number, name, assembly, place, storage,
/// condition, path or notes each of the words begins a word, those with more of them in the name first, then
/// by number. Place, assembly and path narrow that down. Throws WrongUse for a tag number typed wrongly (a
/// check character that does not fit) and for a path that is none.
Found find_parts(const book::Book& book, const Wanted& wanted);

}  // namespace stripbook::find
