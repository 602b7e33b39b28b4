// The fields of a part record under their headings: what the parts list, the history and the messages call
// them.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "book/records.h"

namespace stripbook::book {

inline constexpr int highest_quantity = 1'000'000;
inline constexpr double highest_face_mm = 100'000;  ///< 100 m: no bench is that high

struct Cell {
    std::string heading;
    std::string value;  ///< empty: not known
};

/// The record's own fields, in the order of the parts list and without the tag; notes follow by heading.
std::vector<Cell> own_cells(const Part& part);

/// What differs from `before` to `after`, in that order.
std::vector<CellChange> differences(const Part& before, const Part& after);

/// Whether `heading` names one of a part's own fields (in any case) and so cannot be a note.
bool is_own_heading(std::string_view heading);

/// Throws WrongUse, naming the tag and the field, when a value is out of its range, a path not one of
/// path_words, a text not UTF-8 or a note's heading blank, a field's own or there twice.
void check_part(const Part& part);

}  // namespace stripbook::book
