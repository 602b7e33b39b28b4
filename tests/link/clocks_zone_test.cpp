// Zone conversions against GNU date, which reads the same database with code of its own.
#include "link/clocks_zone.h"

#include <array>
#include <catch2/catch.hpp>
#include <cstdio>
#include <string>

#include "errors.h"

using namespace stripbook;
using link::Zone;

namespace {

std::string output_of(const std::string& command) {
    FILE* pipe = popen(command.c_str(), "r");
    REQUIRE(pipe != nullptr);
    std::array<char, 256> line{};
    const bool got = fgets(line.data(), line.size(), pipe) != nullptr;
    REQUIRE(pclose(pipe) == 0);
    REQUIRE(got);
    std::string text = line.data();
    return text.substr(0, text.find('\n'));
}

// "+0100" as seconds.
double offset_by_date(const std::string& zone, long long utc_s) {
    const std::string text = output_of("TZ=" + zone + " date -d @" + std::to_string(utc_s) + " +%z");
    const int hours = std::stoi(text.substr(1, 2));
    const int minutes = std::stoi(text.substr(3, 2));
    return (text[0] == '-' ? -1 : 1) * (3600.0 * hours + 60.0 * minutes);
}

double utc(const std::string& text) {
    return std::stod(output_of("date -u -d '" + text + "' +%s"));
}

}  // namespace

TEST_CASE("Offsets agree with GNU date around both changes of 2026 and elsewhere", "[link]") {
    for (const char* zone :
         {"Europe/Berlin", "Europe/London", "America/St_Johns", "Asia/Kathmandu", "Australia/Sydney"}) {
        const Zone z{std::string(zone)};
        for (const char* change :
             {"2026-03-29 01:00", "2026-10-25 01:00", "2015-01-01 00:00", "2036-07-01 12:00"}) {
            const auto at = static_cast<long long>(utc(change));
            for (const long long away_s : {-7200, -1, 0, 1, 7200}) {
                INFO(zone << " " << change << " " << away_s);
                CHECK(z.offset_s(static_cast<double>(at + away_s)) == offset_by_date(zone, at + away_s));
            }
        }
    }
}

TEST_CASE("Local times come back to UTC, and the hours that come twice or never are told", "[link]") {
    const Zone berlin(std::string("Europe/Berlin"));
    const auto twice = berlin.utc_of(utc("2026-10-25 02:30"));
    CHECK(twice.twice);
    CHECK(twice.first_s == utc("2026-10-25 00:30"));
    CHECK(twice.second_s == utc("2026-10-25 01:30"));
    const auto skipped = berlin.utc_of(utc("2026-03-29 02:30"));
    CHECK(skipped.skipped);
    CHECK(skipped.first_s == utc("2026-03-29 01:30"));  // by winter time
    const auto plain = berlin.utc_of(utc("2026-07-01 12:00") + 0.25);
    CHECK(plain.first_s == utc("2026-07-01 10:00") + 0.25);
    CHECK_FALSE(plain.twice);
    const Zone london(std::string("Europe/London"));
    CHECK(london.utc_of(utc("2026-10-25 01:30")).twice);
    CHECK(london.utc_of(utc("2026-03-29 01:30")).skipped);
    CHECK(london.last_change(utc("2026-05-01"))->utc_s == utc("2026-03-29 01:00"));
}

TEST_CASE("A zone that this computer does not know is told with what to do", "[link]") {
    CHECK_THROWS_WITH(Zone(std::string("Europe/Petrelburg")),
                      Catch::Contains("Europe/Petrelburg") && Catch::Contains("tzdata"));
}

TEST_CASE("UTC offsets as Exif 2.31 writes them", "[link]") {
    CHECK(link::seconds_of_offset("+01:00") == 3600);
    CHECK(link::seconds_of_offset("-03:30") == -12600);
    CHECK(link::seconds_of_offset("+00:00") == 0);
    for (const char* wrong : {"", "Z", "+1:00", "+15:00", "+01:60", "+0a:00", "01:00:"}) {
        INFO(wrong);
        CHECK_FALSE(link::seconds_of_offset(wrong));
    }
}
