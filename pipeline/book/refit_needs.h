// What refitting asks of a part's record. Each question has its answer in one place here.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/records.h"

namespace stripbook::book {

/// What of its path is still to be done, one line each (what_blocks_refitting); empty: the part is ready.
std::vector<std::string> path_open(const Book& book, const Part& part);

/// Whether it goes back in at all: not when its path is "scrap".
bool goes_back_in(const Book& book, const Part& part);

/// Cautions that go wherever the part is printed: those of its hazards, then the column "cautions" of the
/// parts list, parted by semicolons.
std::vector<std::string> cautions_of(const Book& book, const Part& part);

/// The part that this one was stripped from: its parent; in a book of an older format also the note that was
/// the column "parent" of its parts list, when it is a part's tag.
std::optional<number::TagNumber> parent_of(const Book& book, const Part& part);

}  // namespace stripbook::book
