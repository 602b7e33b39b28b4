// The fields of a part record under their headings: what the parts list, the history and the messages call
// them.
#pragma once

#include <optional>
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

enum class Field {
    tag,
    name,
    assembly,
    place,
    storage,
    quantity_expected,
    quantity_present,
    face_height_mm,
    face_height_inch,
    condition,
    path,
    other_tag,
    parent
};

/// The field that `heading` names in a parts list (case and outer spaces ignored), else nothing: then it
/// heads a note.
std::optional<Field> field_of_heading(std::string_view heading);

/// Throws WrongUse, naming the tag and the field, when a value is out of its range, a path not one of
/// path_words, a text not UTF-8 or a note's heading blank, between spaces, a field's own or there twice.
void check_part(const Part& part);

}  // namespace stripbook::book
