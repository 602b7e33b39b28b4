#include "book/parts_cells.h"

#include <fmt/format.h>

#include <algorithm>

#include "book/number_text.h"
#include "book/paths.h"
#include "errors.h"
#include "number/length_text.h"

namespace stripbook::book {

namespace {

using Wrong = std::optional<std::string>;

Wrong set_quantity(std::optional<int>& quantity, const std::string& text) {
    const auto value = whole_from(text);
    if (!value || *value > highest_quantity) {
        return fmt::format("\"{}\" is not a quantity: a whole number from 0 to {}", printable_name(text),
                           highest_quantity);
    }
    quantity = value;
    return std::nullopt;
}

// In a list parted by commas "1,250" is as likely a thousand and more as one and a quarter.
number::Comma comma_in(const NumberStyle& style) {
    return style.separator == ',' ? number::Comma::could_part_thousands : number::Comma::decimal_mark;
}

Wrong set_face_height(Part& part, const std::string& text, number::LengthUnit unit, NumberStyle& style) {
    try {
        const double height_mm = number::length_from_typed(text, unit, comma_in(style)).mm;
        if (height_mm > highest_face_mm) {
            return fmt::format("\"{}\" is not a face height: it is above 100 m", printable_name(text));
        }
        part.face_height_mm = height_mm;
    } catch (const WrongUse& error) {
        return fmt::format("\"{}\" is not a face height: {}", printable_name(text),
                           printable_name(error.what()));
    }
    style.decimal_comma_seen = style.decimal_comma_seen || text.find(',') != std::string::npos;
    return std::nullopt;
}

Wrong set_path(Part& part, const std::string& text) {
    const std::string small = in_small_letters(text);
    if (std::find(path_words.begin(), path_words.end(), small) == path_words.end()) {
        return fmt::format("\"{}\" is not a path: there are {}", printable_name(text),
                           fmt::join(path_words, ", "));
    }
    part.path = small;
    return std::nullopt;
}

Wrong set_parent(Part& part, const std::string& text) {
    try {
        part.parent = number::TagNumber::from_typed(text, part.tag.book());
    } catch (const WrongUse& error) {
        return "parent: " + printable_name(error.what());
    }
    return std::nullopt;
}

std::string& text_field(Part& part, Field field) {
    switch (field) {
        case Field::name:
            return part.name;
        case Field::assembly:
            return part.assembly;
        case Field::place:
            return part.place;
        case Field::storage:
            return part.storage;
        case Field::other_tag:
            return part.other_tag;
        default:
            return part.condition;
    }
}

}  // namespace

std::optional<std::string> set_field(Part& part, Field field, const CsvCell& cell, NumberStyle& style) {
    const std::string text = without_outer_spaces(cell.text);
    switch (field) {
        case Field::quantity_expected:
            return set_quantity(part.quantity_expected, text);
        case Field::quantity_present:
            return set_quantity(part.quantity_present, text);
        case Field::face_height_mm:
            return set_face_height(part, text, number::LengthUnit::mm, style);
        case Field::face_height_inch:
            return set_face_height(part, text, number::LengthUnit::inch, style);
        case Field::path:
            return set_path(part, text);
        case Field::parent:
            return set_parent(part, text);
        default:
            text_field(part, field) = cell.text;
            return std::nullopt;
    }
}

}  // namespace stripbook::book
