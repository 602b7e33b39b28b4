// Part records.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/records.h"

namespace stripbook::book {

/// All parts by tag number.
std::vector<Part> all_parts(const Book& book);
std::optional<Part> find_part(const Book& book, const number::TagNumber& tag);
/// Parts whose parent it is, by tag number.
std::vector<number::TagNumber> taken_from(const Book& book, const number::TagNumber& tag);
/// Throws WrongUse when the book has no such part.
Part part_or_refusal(const Book& book, const number::TagNumber& tag);

/// A new part record for a tag number seen in a photo, "name not yet known". Does nothing when the part
/// exists. Returns whether one was made. The history says in which photo it was seen.
bool add_seen_part(Book& book, const number::TagNumber& tag, PhotoNumber seen_in, const std::string& who);

/// Writes `part` (new or known), one history entry for each field that differs. Throws WrongUse for a tag of
/// another book or a path that is not one of path_words.
void save_part(Book& book, const Part& part, const std::string& who, const std::string& how);

}  // namespace stripbook::book
