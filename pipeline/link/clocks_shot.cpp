// The text of a clock shot: RFC 3339.
#include <date/date.h>

#include <algorithm>
#include <locale>
#include <sstream>

#include "link/clocks.h"

namespace stripbook::link {

namespace {

constexpr std::size_t to_the_second = 19;

// "2026-03-20T08:58:15" as seconds since 1970.
std::optional<double> whole_seconds(const std::string& text) {
    const std::string form = "dddd-dd-ddTdd:dd:dd";
    for (std::size_t i = 0; i < form.size(); ++i) {
        const bool digit = text[i] >= '0' && text[i] <= '9';
        if (form[i] == 'd' ? !digit : text[i] != form[i]) {
            return std::nullopt;
        }
    }
    std::istringstream in(text);
    in.imbue(std::locale::classic());
    date::sys_seconds at;
    in >> date::parse("%FT%T", at);
    if (in.fail()) {
        return std::nullopt;
    }
    return static_cast<double>(at.time_since_epoch().count());
}

}  // namespace

std::optional<double> utc_of_clock_shot(const std::string& text) {
    const std::string word = "TIME ";
    if (text.rfind(word, 0) != 0 || text.size() < word.size() + to_the_second + 1) {
        return std::nullopt;
    }
    const auto seconds = whole_seconds(text.substr(word.size(), to_the_second));
    std::string zone = text.substr(word.size() + to_the_second);
    if (zone.front() == '.') {
        zone.erase(0, std::min(zone.find_first_not_of("0123456789", 1), zone.size()));
    }
    const auto offset = zone == "Z" ? std::optional(0.0) : seconds_of_offset(zone);
    return seconds && offset ? std::optional(*seconds - *offset) : std::nullopt;
}

}  // namespace stripbook::link
