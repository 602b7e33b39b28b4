// The running time as a QR code: a picture for a phone's screen, and lines of block characters for a
// terminal.
#pragma once

#include <cstdint>
#include <string>

namespace stripbook::print {

/// What the code says: "TIME 2026-03-20T08:58:15Z" (docs/tag-code.md), of whole seconds since 1970 UTC.
std::string clock_text(std::int64_t utc_s);

/// A PNG, black on white, as a phone shows it: the code, and below it the same time in words.
std::string clock_picture(std::int64_t utc_s);

/// The code for a terminal, light on dark or dark on light: two modules a character, white around it, colours
/// set for each line. Lines end in "\n".
std::string clock_lines(std::int64_t utc_s);

}  // namespace stripbook::print
