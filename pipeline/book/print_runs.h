// Which tag numbers were printed, when, and in which size: so that no number is printed twice by accident.
#pragma once

#include <optional>
#include <set>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/records.h"

namespace stripbook::book {

enum class TagSize { large, small };

/// "large" or "small".
const char* size_word(TagSize size);

struct PrintRunId {
    std::int64_t value = 0;
    auto operator<=>(const PrintRunId&) const = default;
};

/// What is asked of a print run.
struct PrintOrder {
    TagSize size = TagSize::large;
    std::string paper = "a4";  ///< "a4", "letter" or "roll"
    bool fold = false;         ///< both faces, to fold over
    std::vector<number::TagNumber> tags;
    std::string again;  ///< why numbers that were printed before are printed again; empty: none were
};

struct PrintRun {
    PrintRunId id;
    std::string at;  ///< UTC, RFC 3339
    std::string who;
    PrintOrder order;
};

/// The next `count` serial numbers at or above `from` that are neither a part's nor printed, beginning behind
/// the highest of them when `from` is 0. WrongUse when the series (99999) does not hold them.
std::vector<number::TagNumber> free_numbers(const Book& book, int count, int from = 0);

/// Reserves the numbers and keeps the run; the history of each number says so. WrongUse when the order is
/// empty, a number is of another book or named twice, or one was printed before and `again` is empty.
PrintRun add_print_run(Book& book, const PrintOrder& order, const std::string& who);

/// Takes a run back whose file was never written: its numbers are free again.
void take_back_print_run(Book& book, PrintRunId run, const std::string& who);

/// All print runs, oldest first.
std::vector<PrintRun> print_runs(const Book& book);

/// Every number that was printed.
std::set<number::TagNumber> printed_numbers(const Book& book);

}  // namespace stripbook::book
