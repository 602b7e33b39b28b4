// One printed tag, drawn to the figures of docs/tag-code.md.
#pragma once

#include <string>

#include "number/tag_number.h"
#include "print/sheet.h"

namespace stripbook::print {

/// What a tag shows besides its number. Both empty: a blank tag, with ruled lines to write on. Texts have
/// gone through PrintableText.
struct TagWords {
    std::string name;
    std::string place;
    [[nodiscard]] bool blank() const { return name.empty() && place.empty(); }
};

/// Draws the tag with its top-left corner at (x, y) mm of the sheet, `scale` times the large tag's drawing.
void draw_tag(Sheet& sheet, const Lettering& lettering, double x, double y, double scale,
              const number::TagNumber& tag, const TagWords& words);

}  // namespace stripbook::print
