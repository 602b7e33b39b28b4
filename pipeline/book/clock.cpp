#include "book/clock.h"

#include <fmt/format.h>

#include <cmath>
#include <ctime>

namespace stripbook::book {

namespace {

std::string date_and_time(const std::tm& t) {
    return fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}", t.tm_year + 1900, t.tm_mon + 1, t.tm_mday,
                       t.tm_hour, t.tm_min, t.tm_sec);
}

}  // namespace

std::string now_utc() {
    const std::time_t now = std::time(nullptr);
    std::tm t{};
    gmtime_r(&now, &t);
    return date_and_time(t) + "Z";
}

std::string now_local_minute() {
    const std::time_t now = std::time(nullptr);
    std::tm t{};
    localtime_r(&now, &t);
    return fmt::format("{:04}-{:02}-{:02} {:02}:{:02}", t.tm_year + 1900, t.tm_mon + 1, t.tm_mday, t.tm_hour,
                       t.tm_min);
}

std::optional<std::string> time_words(double seconds) {
    constexpr double year_1_s = -62135596800.0;  // 0001-01-01 and 10000-01-01, by date -u -d ... +%s
    constexpr double year_10000_s = 253402300800.0;
    // Written so that not-a-number fails too.
    if (!(seconds >= year_1_s && seconds < year_10000_s - 1)) {
        return std::nullopt;
    }
    const auto hundredths = static_cast<long long>(std::floor(seconds * 100 + 0.5));
    const long long part = (hundredths % 100 + 100) % 100;
    const std::time_t whole = (hundredths - part) / 100;
    std::tm t{};
    gmtime_r(&whole, &t);
    return date_and_time(t) + (part == 0 ? "" : fmt::format(".{:02}", part));
}

}  // namespace stripbook::book
