// Every change of a record: who, when, what it was before. Nothing is ever deleted from it.
#pragma once

#include <string>
#include <vector>

#include "book/book.h"
#include "book/records.h"

namespace stripbook::book {

/// The time stamp is taken here (UTC, whole seconds).
void note_change(Book& book, const std::string& who, const std::string& what, const std::string& field,
                 const std::string& before, const std::string& after, const std::string& how);

/// Changes of one record ("PET-00417-D", "p12"), oldest first.
std::vector<Change> history_of(const Book& book, const std::string& what);

}  // namespace stripbook::book
