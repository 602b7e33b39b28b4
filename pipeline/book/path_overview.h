// The whole job by path and stage: what is decided, what blocks refitting, what has been waiting, what it
// costs.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/part_path.h"
#include "book/records.h"

namespace stripbook::book {

struct BlockedPart {
    explicit BlockedPart(Part p) : part(std::move(p)) {}
    Part part;
    std::vector<std::string> why;
};

/// A part that nobody has decided on.
struct WaitingPart {
    explicit WaitingPart(Part p) : part(std::move(p)) {}
    Part part;
    std::string since;  ///< UTC, RFC 3339: when the record was made or its path last changed
    int days = 0;
};

/// Hours and money of an assembly and everything within it; dropped work does not count.
struct AssemblySum {
    std::string assembly;  ///< "Running gear / Axle 2"; empty: the whole job, or no assembly told
    std::size_t level = 0;
    int parts = 0;
    double hours_planned = 0;
    double hours_open = 0;
    double hours_taken = 0;
    std::int64_t price_cents = 0;
};

struct PathOverview {
    int parts = 0;
    std::map<std::string, int> by_path;                                   ///< each of path_words
    std::map<std::string, std::map<std::string, int>> by_path_and_stage;  ///< stage "": not known
    std::vector<BlockedPart> blocked;
    std::vector<WaitingPart> waiting;  ///< longest first
    std::vector<AssemblySum> sums;     ///< the whole job first, then each assembly before those within it
};

/// A part's stage is that of its latest photo that has one. `days`: undecided for at least that long.
PathOverview path_overview(const Book& book, int days);

}  // namespace stripbook::book
