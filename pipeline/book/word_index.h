// The words of every part record, for finding: SQLite's FTS5 over folded text.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/records.h"

namespace stripbook::book {

/// What to look for; all of it must hold. Words are matched by their beginnings, without case and accents.
struct WordQuery {
    std::vector<std::string> words;     ///< anywhere in the record
    std::vector<std::string> place;     ///< words of the place
    std::vector<std::string> assembly;  ///< words of the assembly
    std::string path;                   ///< one of path_words; empty: any
    std::size_t most = 200;             ///< parts given
};

struct WordHits {
    std::vector<number::TagNumber> tags;  ///< those with more of `words` in their name first, then by number
    std::size_t all = 0;                  ///< how many parts there are; more than given, perhaps
};

/// Words with no letter or digit in them are passed over; a query of nothing finds nothing.
WordHits find_words(const Book& book, const WordQuery& query);

/// Takes the words of changed parts into the index. Called by Book::together before it commits.
void index_due_words(Book& book);

}  // namespace stripbook::book
