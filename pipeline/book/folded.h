// Text folded for comparing and finding.
#pragma once

#include <string>

namespace stripbook::book {

/// Case and accents taken off ("Krümmer" and "KRUMMER" are the same), compatible forms made equal, in any
/// script. By utf8proc (Unicode default case folding, canonical decomposition). Text that is not UTF-8 comes
/// back as it is.
std::string folded(const std::string& text);

}  // namespace stripbook::book
