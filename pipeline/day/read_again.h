// Reading photos again after an update of the program.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/records.h"
#include "day/read_day.h"

namespace stripbook::day {

/// What a photo says now, and what it said before, in words ("PET-00417-D, bench", "nothing").
struct ChangedReading {
    book::PhotoNumber photo;
    std::string before;
    std::string after;
};

struct Rereading {
    std::size_t read = 0;
    std::vector<ChangedReading> changed;
    /// Photos whose earlier reading was kept because the new one did not come back: number and why.
    std::vector<std::string> kept;
};

/// Photos and videos that this version of the reading station has not read; all of them when `all`.
std::vector<book::Photo> photos_to_read_again(const book::Book& book, bool all);

/// Reads them and keeps what was found. A person's links, refusals and stages are none of a reading's and
/// stay. A reading whose worker died or overran does not replace an earlier one that was good. Throws
/// Stopped; what was read until then is kept.
Rereading read_again(book::Book& book, bool all, const ReadOptions& options);

}  // namespace stripbook::day
