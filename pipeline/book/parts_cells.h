// One cell of a parts list into a field of a part.
#pragma once

#include <optional>
#include <string>

#include "book/csv_table.h"
#include "book/part_fields.h"
#include "book/records.h"

namespace stripbook::book {

/// How a list writes its numbers.
struct NumberStyle {
    char separator = ',';             ///< of the cells
    bool decimal_comma_seen = false;  ///< set when a cell was read with , as the decimal mark
};

/// Puts a cell that is not blank into `part`. Returns what is wrong with it, in words, else nothing. Not for
/// the tag.
std::optional<std::string> set_field(Part& part, Field field, const CsvCell& cell, NumberStyle& style);

}  // namespace stripbook::book
