// How photos look (photo/signature.h), kept for linking.
#pragma once

#include <map>
#include <string>

#include "book/book.h"
#include "book/records.h"

namespace stripbook::book {

/// In the place of what was kept; empty: nothing is known.
void save_signature(Book& book, PhotoNumber photo, const std::string& signature);

std::map<PhotoNumber, std::string> all_signatures(const Book& book);

}  // namespace stripbook::book
