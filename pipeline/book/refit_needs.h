// What refitting asks of a part's record. Each question has its answer in one place here.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/records.h"

namespace stripbook::book {

/// Whether the part is ready as far as its path goes: "use again".
bool path_done(const Book& book, const Part& part);

/// Whether it goes back in at all: not when its path is "scrap".
bool goes_back_in(const Book& book, const Part& part);

/// Cautions that go wherever the part is printed: the column "cautions" of the parts list, parted by
/// semicolons.
std::vector<std::string> cautions_of(const Book& book, const Part& part);

/// The part that this one was stripped from: the column "parent" of the parts list, when it is a part's tag.
std::optional<number::TagNumber> parent_of(const Book& book, const Part& part);

}  // namespace stripbook::book
