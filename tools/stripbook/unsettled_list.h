// The groups of photos that wait for a person, gathered with what is to be shown of them.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "book/book.h"
#include "print/unsettled_sheet.h"

namespace stripbook::cli {

/// The open groups, fewest decisions first; or these, whatever became of them.
std::vector<print::GroupOnSheet> gather_groups(const book::Book& book,
                                               const std::vector<book::GroupNumber>& wanted);

/// A group in a few lines.
void print_group(const book::Book& book, const print::GroupOnSheet& group);

nlohmann::json to_json(const book::Book& book, const print::GroupOnSheet& group);

}  // namespace stripbook::cli
