// QR codes as vectors (ISO/IEC 18004).
#pragma once

#include <opencv2/core.hpp>
#include <string>
#include <vector>

#include "print/sheet.h"

namespace stripbook::print {

/// White modules that belong around a QR code.
inline constexpr int qr_quiet_modules = 4;

/// Error correction: M mends about 15 % of the code words, Q about 25 %.
enum class QrLevel { medium, quartile };

/// The modules of `text`, dark ones 1, without a quiet zone. Throws WrongUse when it is too long for a QR
/// code.
cv::Mat1b qr_modules(const std::string& text, QrLevel level);

/// The dark modules of `text` in the square `box`, quiet zone included, neighbours in a row merged. Lengths
/// of `box`. Throws WrongUse when the text is too long for a QR code.
std::vector<BoxMm> qr_rectangles(const std::string& text, const BoxMm& box,
                                 QrLevel level = QrLevel::quartile);

/// The same where `box` is the dark square alone; its quiet zone is the caller's.
std::vector<BoxMm> qr_rectangles_filling(const std::string& text, const BoxMm& box, QrLevel level);

}  // namespace stripbook::print
