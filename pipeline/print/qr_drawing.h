// QR codes as vectors (ISO/IEC 18004), error correction level Q.
#pragma once

#include <string>
#include <vector>

#include "print/sheet.h"

namespace stripbook::print {

/// White modules that belong around a QR code.
inline constexpr int qr_quiet_modules = 4;

/// The dark modules of `text` in the square `box`, quiet zone included, neighbours in a row merged. Lengths
/// of `box`. Throws WrongUse when the text is too long for a QR code.
std::vector<BoxMm> qr_rectangles(const std::string& text, const BoxMm& box);

}  // namespace stripbook::print
