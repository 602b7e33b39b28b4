// Time stamps of the book.
#pragma once

#include <optional>
#include <string>

namespace stripbook::book {

/// Now, in UTC, RFC 3339 to whole seconds: "2026-03-20T08:58:15Z".
std::string now_utc();

/// Now, in local time, as the lock shows it: "2026-03-20 17:02".
std::string now_local_minute();

/// Seconds since 1970 UTC as "2026-03-20T08:58:15.83" (hundredths only where there are any), without zone.
/// Nothing outside the years 1 to 9999.
std::optional<std::string> time_words(double seconds);

}  // namespace stripbook::book
