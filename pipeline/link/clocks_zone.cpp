#include "link/clocks_zone.h"

#include <date/tz.h>
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdint>

#include "book/paths.h"
#include "errors.h"

namespace stripbook::link {

namespace {

// No camera writes a time outside these years, and the library's calendar ends at 32767.
constexpr double year_1_s = -62135596800.0;  // 0001-01-01 and 9999-12-31, by date -u -d ... +%s
constexpr double year_9999_s = 253402214400.0;

std::chrono::seconds whole(double seconds) {
    const double kept = std::isfinite(seconds) ? std::clamp(seconds, year_1_s, year_9999_s) : 0.0;
    return std::chrono::seconds(static_cast<std::int64_t>(std::floor(kept)));
}

}  // namespace

std::optional<double> seconds_of_offset(std::string_view offset) {
    const auto digit = [&](std::size_t at) {
        return offset[at] >= '0' && offset[at] <= '9' ? offset[at] - '0' : 100;
    };
    if (offset.size() != 6 || (offset[0] != '+' && offset[0] != '-') || offset[3] != ':') {
        return std::nullopt;
    }
    const int hours = 10 * digit(1) + digit(2);
    const int minutes = 10 * digit(4) + digit(5);
    if (hours > 14 || minutes > 59) {
        return std::nullopt;
    }
    return (offset[0] == '-' ? -1.0 : 1.0) * (3600.0 * hours + 60.0 * minutes);
}

struct Zone::Inside {
    const date::time_zone* zone = nullptr;  // none: a fixed offset
    double fixed_s = 0;
};

Zone::Zone(const std::string& name) : inside_(std::make_unique<Inside>()) {
    try {
        inside_->zone = date::locate_zone(name);
    } catch (const std::exception&) {
        throw OutsideError(
            fmt::format("this computer does not know the time zone {}: install its time zone data (Debian: "
                        "tzdata), or choose another with stripbook set \"time zone\" NAME",
                        book::printable_name(name)));
    }
}

Zone::Zone(double fixed_offset_s) : inside_(std::make_unique<Inside>()) {
    inside_->fixed_s = fixed_offset_s;
}

Zone::Zone(Zone&&) noexcept = default;
Zone& Zone::operator=(Zone&&) noexcept = default;
Zone::~Zone() = default;

double Zone::offset_s(double utc_s) const {
    if (inside_->zone == nullptr) {
        return inside_->fixed_s;
    }
    return static_cast<double>(inside_->zone->get_info(date::sys_seconds(whole(utc_s))).offset.count());
}

UtcOfLocal Zone::utc_of(double local_s) const {
    if (inside_->zone == nullptr) {
        return {local_s - inside_->fixed_s, local_s - inside_->fixed_s, false, false};
    }
    const date::local_info info = inside_->zone->get_info(date::local_seconds(whole(local_s)));
    const auto by = [&](const date::sys_info& rule) {
        return local_s - static_cast<double>(rule.offset.count());
    };
    if (info.result == date::local_info::unique) {
        return {by(info.first), by(info.first), false, false};
    }
    const bool twice = info.result == date::local_info::ambiguous;
    return {by(info.first), by(info.second), twice, !twice};
}

std::optional<ZoneChange> Zone::last_change(double utc_s) const {
    if (inside_->zone == nullptr) {
        return std::nullopt;
    }
    const auto info = inside_->zone->get_info(date::sys_seconds(whole(utc_s)));
    const auto began_s = static_cast<double>(info.begin.time_since_epoch().count());
    if (began_s < year_1_s) {
        return std::nullopt;
    }
    return ZoneChange{began_s, offset_s(began_s - 1), static_cast<double>(info.offset.count())};
}

}  // namespace stripbook::link
