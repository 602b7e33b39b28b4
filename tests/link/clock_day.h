// Photos of cameras with wrong clocks, for the tests of clocks and of order.
#pragma once

#include <algorithm>
#include <catch2/catch.hpp>
#include <cstdio>
#include <ctime>
#include <string>
#include <vector>

#include "book/clock.h"
#include "link/clocks.h"

namespace stripbook::test {

inline constexpr double minute_s = 60;
inline constexpr double hour_s = 3600;
inline constexpr double day_s = 86400;

/// Seconds of "2026-03-20 09:00" as if it were UTC, by the calendar of the C library.
inline double at(const std::string& text) {
    std::tm t{};
    int seconds = 0;
    REQUIRE(std::sscanf(text.c_str(), "%d-%d-%d %d:%d:%d", &t.tm_year, &t.tm_mon, &t.tm_mday, &t.tm_hour,
                        &t.tm_min, &seconds) >= 5);
    t.tm_year -= 1900;
    t.tm_mon -= 1;
    t.tm_sec = seconds;
    return static_cast<double>(timegm(&t));
}

/// A camera at work: each photo takes the next number and counter.
struct Taking {
    link::CameraEvidence evidence;
    std::int64_t next_number = 1;
    int directory = 100;
    int counter = 0;
    std::string offset;  ///< that it writes into its photos

    explicit Taking(std::int64_t camera, std::int64_t first_number = 1) : next_number(first_number) {
        evidence.camera = {camera};
    }

    /// By the camera's clock, whole seconds.
    book::PhotoNumber photo(double shown_s) {
        book::Photo p;
        p.number = {next_number++};
        p.camera = evidence.camera;
        p.camera_time = {shown_s, book::time_words(shown_s).value_or(""), offset, "EXIF"};
        p.file_time_s = shown_s;
        p.dcf_directory = directory;
        p.dcf_counter = ++counter;
        evidence.photos.push_back(p);
        return p.number;
    }
    book::PhotoNumber photo(const std::string& shown) { return photo(at(shown)); }

    void clock_shot(double shown_s, double utc_s) { evidence.shots.push_back({photo(shown_s), utc_s}); }

    void tag(double shown_s, const std::string& text) { evidence.tags.push_back({photo(shown_s), text}); }
};

inline const book::TrueTime& time_of(const link::Clocks& clocks, book::PhotoNumber photo) {
    const auto found = std::find_if(clocks.times.begin(), clocks.times.end(),
                                    [&](const book::TrueTime& t) { return t.photo == photo; });
    REQUIRE(found != clocks.times.end());
    return *found;
}

}  // namespace stripbook::test
