// Measurements belong to the part that their photo belongs to.
#pragma once

#include <string>
#include <vector>

#include "book/book.h"
#include "book/measurements.h"

namespace stripbook::book {

/// Measurements that hold, of photos that by now belong to one other part, become that part's; their overlays
/// go along. The history says so.
void measurements_follow_links(Book& book);

/// Where a new measurement contradicts an earlier one of the same part in another photo: the same dimension
/// differs by more than three times the combined uncertainty, sqrt(U1^2 + U2^2) (JCGM 100, 5.1.2, for
/// independent values of k = 2). In words, one line each.
std::vector<std::string> contradictions(const Book& book, const Measurement& measurement);

}  // namespace stripbook::book
