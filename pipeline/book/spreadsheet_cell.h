// Cells that a spreadsheet would run as a formula, made harmless and back.
#pragma once

#include <string>

namespace stripbook::book {

/// `text` with an apostrophe before it where a spreadsheet would take it for a formula: where, behind spaces
/// and apostrophes, it begins with = + - @ (also full-width), a tab or a line end. Numbers stay numbers.
std::string defused(const std::string& text);

/// What defused() was given.
std::string without_defusing(const std::string& text);

}  // namespace stripbook::book
