// Text out of a stranger's file, made fit to keep and to print.
#pragma once

#include <string>
#include <string_view>

namespace stripbook::photo {

/// One line of valid UTF-8: spaces and NULs at both ends are dropped, the text ends at a NUL inside it,
/// control characters become spaces, bytes that are no UTF-8 become U+FFFD, and at most `most_bytes` of the
/// source are used.
std::string one_line(std::string_view text, std::size_t most_bytes = 500);

}  // namespace stripbook::photo
