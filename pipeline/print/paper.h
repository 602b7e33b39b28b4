// Sizes of paper, millimetres, upright.
#pragma once

#include <string>
#include <string_view>

namespace stripbook::print {

struct Paper {
    double width = 210;
    double height = 297;
    static Paper a4() { return {}; }                     ///< ISO 216
    static Paper us_letter() { return {215.9, 279.4}; }  ///< ANSI/ASME Y14.1: 8.5 x 11 in
    /// Lying on its long side.
    [[nodiscard]] Paper turned() const { return {height, width}; }
};

/// "a4" or "letter". Throws WrongUse for another name.
Paper paper_named(std::string_view name);

/// What printers leave white along every edge of a sheet (common practice, no source: 4.2 mm and less).
inline constexpr double printer_margin_mm = 5;

}  // namespace stripbook::print
