// The order of parts in a report of many.
#pragma once

#include <string_view>
#include <vector>

#include "book/records.h"

namespace stripbook::print {

/// Whether `a` comes before `b` as people count: capitals are not told apart, and "Axle 2" comes before "Axle
/// 10".
bool counts_before(std::string_view a, std::string_view b);

/// By assembly, each before those within it, then by tag number; parts without an assembly last.
void sort_for_report(std::vector<book::Part>& parts);

}  // namespace stripbook::print
