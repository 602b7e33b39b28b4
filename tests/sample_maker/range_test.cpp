#include "sample_maker/range.h"

#include <catch2/catch.hpp>
#include <clocale>

#include "errors.h"

using namespace stripbook::sample_maker;

TEST_CASE("A range is one number or two with a colon, in any locale", "[sample_maker]") {
    std::setlocale(LC_ALL, "de_DE.UTF-8");  // where it is installed: decimal commas must not matter
    CHECK(range_from("2", "--x").low == 2);
    CHECK(range_from("2", "--x").high == 2);
    CHECK(range_from("1.25:3", "--x").low == 1.25);
    CHECK(range_from("-0.2", "--x").low == -0.2);
    std::setlocale(LC_ALL, "C");
    for (const char* wrong : {"", "a", "1:", ":1", "3:1", "1:2:3", "1,5", "nan", "inf", "1 ", "0x10"}) {
        CAPTURE(wrong);
        CHECK_THROWS_WITH(range_from(wrong, "--blur"), Catch::Contains("--blur"));
    }
}

TEST_CASE("A picture size is width x height", "[sample_maker]") {
    CHECK(size_from("1600x1200") == cv::Size(1600, 1200));
    for (const char* wrong : {"", "1600", "x", "1600x", "1600x1200x3", "a x b", "1e9x2", "99999999999x1"}) {
        CAPTURE(wrong);
        CHECK_THROWS_AS(size_from(wrong), stripbook::WrongUse);
    }
}
