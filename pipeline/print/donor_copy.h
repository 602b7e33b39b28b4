// What of a part's record goes to those who pay: the work, without the workshop's own affairs.
#pragma once

#include "book/part_file.h"

namespace stripbook::print {

/// The part's file without its storage place, the names of those who worked on it, the notes of the parts
/// list, its history, the tags of other parts and, unless `with_costs`, prices and hours. Words that a person
/// typed (condition, findings, work) stay as they are.
book::PartFile donor_copy(book::PartFile file, bool with_costs);

}  // namespace stripbook::print
