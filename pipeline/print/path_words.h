// What was said with the decision on a part's path, in words, for the terminal and the report.
#pragma once

#include <string>
#include <vector>

#include "book/part_path.h"

namespace stripbook::print {

/// One line each, only those that are told: "why: worn", "decided by Ben, 2026-11-25", "from Fenny Foundry",
/// "price 12.50 GBP", "ordered 2026-11-20, received 2026-11-25", "drawing D 12", "material bronze".
std::vector<std::string> path_lines(const book::PathRecord& path, const std::string& currency);

}  // namespace stripbook::print
