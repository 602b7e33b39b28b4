// Photos of which a person said that they belong to no part: nobody is asked about them again, and what they
// show is not used for linking.
#pragma once

#include <set>
#include <string>

#include "book/book.h"
#include "book/records.h"

namespace stripbook::book {

std::set<PhotoNumber> photos_without_part(const Book& book);

/// A person's word that the photo belongs to no part; takes back every person's links of it.
/// Throws WrongUse when the book has no such photo.
void say_without_part(Book& book, PhotoNumber photo, const std::string& who);

/// Takes that word back; nothing happens when nobody gave it. Linking the photo to a part does so too
/// (link_by_person).
void take_back_without_part(Book& book, PhotoNumber photo, const std::string& who);

}  // namespace stripbook::book
