#include "photo/exif_time.h"

#include <fmt/format.h>

#include <catch2/catch.hpp>

#include "outside_tool.h"
#include "photo/metadata.h"

using namespace std::string_literals;
using stripbook::photo::offset_of_exif;
using stripbook::photo::seconds_of;
using stripbook::photo::time_of_exif;

TEST_CASE("A time and its fraction come together", "[photo][metadata]") {
    CHECK(time_of_exif("2026:03:20 08:58:15", "83") == "2026-03-20T08:58:15.83");
    CHECK(time_of_exif("2026:03:20 08:58:15", "") == "2026-03-20T08:58:15");
    CHECK(time_of_exif("2026:03:20 08:58:15\0"s, "07 \0"s) == "2026-03-20T08:58:15.07");
    CHECK(time_of_exif("2026:03:20 08:58:15", "  ") == "2026-03-20T08:58:15");
    CHECK(time_of_exif("2026:03:20 08:58:15", "-1") == "2026-03-20T08:58:15");
    CHECK(time_of_exif("2026:03:20 08:58:15", std::string(40, '1')) == "2026-03-20T08:58:15.111111111");
}

TEST_CASE("What is no time of the calendar is not said", "[photo][metadata]") {
    for (const char* text : {"",
                             "    :  :     :  :  ",
                             "0000:00:00 00:00:00",
                             "2026:02:29 12:00:00",
                             "2026:13:01 12:00:00",
                             "2026:00:01 12:00:00",
                             "2026:04:31 12:00:00",
                             "2026:01:00 12:00:00",
                             "2026:01:01 24:00:00",
                             "2026:01:01 12:60:00",
                             "2026:01:01 12:00:60",
                             "2026:01:01",
                             "2026:01:01 12:00",
                             "2026:01:01 12:00:00Z",
                             "2026-01-01 12:00:00",
                             "2026:01:01T12:00:00",
                             "20x6:01:01 12:00:00",
                             "2026:-1:01 12:00:00",
                             "2026:01:01 +1:00:00",
                             "1900:02:29 00:00:00"}) {
        INFO(text);
        CHECK(time_of_exif(text, "12").empty());
    }
    CHECK(time_of_exif("2024:02:29 23:59:59", "") == "2024-02-29T23:59:59");
    CHECK(time_of_exif("2000:02:29 00:00:00", "") == "2000-02-29T00:00:00");
}

TEST_CASE("Only an offset that a clock of the world has is one", "[photo][metadata]") {
    CHECK(offset_of_exif("+01:00") == "+01:00");
    CHECK(offset_of_exif("-03:30\0"s) == "-03:30");
    CHECK(offset_of_exif("+14:00") == "+14:00");
    CHECK(offset_of_exif("-12:00") == "-12:00");
    CHECK(offset_of_exif("+00:00") == "+00:00");
    for (const char* text : {"", "      ", "Z", "01:00", "+1:00", "+0100", "+14:15", "-12:15", "+01:60",
                             "+aa:00", "+01:00:00", "   :  "}) {
        INFO(text);
        CHECK(offset_of_exif(text).empty());
    }
}

TEST_CASE("Seconds since 1970 are those date(1) gives", "[photo][metadata]") {
    for (const char* time :
         {"1970-01-01T00:00:00", "2026-03-20T08:58:15", "2024-02-29T23:59:59", "1969-12-31T23:59:59",
          "2000-03-01T00:00:00", "2099-08-12T19:59:29", "2216-11-15T11:46:51", "1904-01-01T00:00:00"}) {
        INFO(time);
        const std::string seconds =
            stripbook::test::output_of(fmt::format("date -u -d {}Z +%s", time), "coreutils");
        REQUIRE(seconds_of(time));
        CHECK(*seconds_of(time) == std::stod(seconds));
    }
    CHECK(*seconds_of("2026-03-20T08:58:15.83") - *seconds_of("2026-03-20T08:58:15") ==
          Approx(0.83).margin(1e-6));
    CHECK(*seconds_of("1970-01-01T00:00:00.07") == 0.07);
    // RFC 3339, section 5.8: 1996-12-19T16:39:57-08:00 is 1996-12-20T00:39:57Z.
    CHECK(*seconds_of("1996-12-20T00:39:57") - *seconds_of("1996-12-19T16:39:57") == 8 * 3600);
}

TEST_CASE("What is no time has no seconds", "[photo][metadata]") {
    for (const char* text :
         {"", "2026-03-20", "2026-03-20T08:58", "2026-02-30T08:58:15", "2026-03-20 08:58:15",
          "2026:03:20T08:58:15", "2026-03-20T08:58:15.", "2026-03-20T08:58:15.8x", "2026-03-20T08:58:15,8",
          "2026-03-20T08:58:15Z", "2026-03-20T08:58:15.-1"}) {
        INFO(text);
        CHECK_FALSE(seconds_of(text));
    }
}
