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

/// The last `most` changes of the whole book, oldest first.
std::vector<Change> last_changes(const Book& book, int most);

/// How `how` begins of a change that took another back.
inline constexpr const char* undone_words = "undone: ";

}  // namespace stripbook::book
