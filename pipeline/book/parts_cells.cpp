#include "book/parts_cells.h"

#include <fmt/format.h>

#include <algorithm>

#include "book/number_text.h"
#include "book/paths.h"

namespace stripbook::book {

namespace {

using Wrong = std::optional<std::string>;

// The number with "." as its decimal mark; nothing when the mark cannot be told.
std::optional<std::string> with_decimal_point(const std::string& text, NumberStyle& style) {
    const auto comma = text.find(',');
    if (comma == std::string::npos) {
        return text;
    }
    constexpr std::size_t thousands_digits = 3;
    const bool one_mark =
        text.find_first_of(",.", comma + 1) == std::string::npos && text.find('.') == std::string::npos;
    // In a list parted by commas "1,250" is as likely a thousand and more as one and a quarter.
    const bool could_be_thousands = style.separator == ',' && text.size() - comma - 1 == thousands_digits;
    if (!one_mark || could_be_thousands) {
        return std::nullopt;
    }
    style.decimal_comma_seen = true;
    std::string out = text;
    out[comma] = '.';
    return out;
}

Wrong set_quantity(std::optional<int>& quantity, const std::string& text) {
    const auto value = whole_from(text);
    if (!value || *value > highest_quantity) {
        return fmt::format("\"{}\" is not a quantity: a whole number from 0 to {}", printable_name(text),
                           highest_quantity);
    }
    quantity = value;
    return std::nullopt;
}

Wrong set_face_height(Part& part, const std::string& text, bool in_inches, NumberStyle& style) {
    const auto number = with_decimal_point(text, style);
    std::optional<double> value;
    if (number) {
        value = in_inches ? inches_from(*number) : number_from(*number);
    }
    if (value && in_inches) {
        value = *value * mm_per_inch;
    }
    if (!value || *value < 0 || *value > highest_face_mm) {
        return fmt::format(
            "\"{}\" is not a face height: {}", printable_name(text),
            in_inches ? "inches, for example 0.625, 5/8 or 3 5/16" : "millimetres, for example 16 or 16.5");
    }
    part.face_height_mm = value;
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
            return set_face_height(part, text, false, style);
        case Field::face_height_inch:
            return set_face_height(part, text, true, style);
        case Field::path:
            return set_path(part, text);
        default:
            text_field(part, field) = cell.text;
            return std::nullopt;
    }
}

}  // namespace stripbook::book
