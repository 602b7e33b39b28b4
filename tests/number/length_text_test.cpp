#include "number/length_text.h"

#include <catch2/catch.hpp>
#include <clocale>

#include "errors.h"

using namespace stripbook;
using number::inch_fraction;
using number::length_from_typed;
using number::LengthUnit;

namespace {

double mm_of(const char* text, LengthUnit unit = LengthUnit::mm) {
    return length_from_typed(text, unit).mm;
}

}  // namespace

// NIST SP 811 (2008), B.8: inch to metre 2.54 E-02 exactly, mil (0.001 in) to metre 2.54 E-05 exactly. The
// right-hand sides are products worked out by hand; the doubles must be the nearest ones, so == holds.
TEST_CASE("Inches become millimetres by the exact factor, rounded once", "[number]") {
    CHECK(mm_of("1 in") == 25.4);
    CHECK(mm_of("2.998", LengthUnit::inch) == 76.1492);
    CHECK(mm_of("3 5/16 in") == 84.1375);
    CHECK(mm_of("3-5/16\"") == 84.1375);
    CHECK(mm_of("3 5/16\u2033") == 84.1375);
    CHECK(mm_of("5/16", LengthUnit::inch) == 7.9375);
    CHECK(mm_of("15/16 in") == 23.8125);
    CHECK(mm_of("53 3/8 inches") == 1355.725);
    CHECK(mm_of("1/64 in") == 0.396875);
    CHECK(mm_of("5 thou") == 0.127);
    CHECK(mm_of(".001 in") == 0.0254);
    CHECK(mm_of("0.1 in") == 2.54);
    CHECK(mm_of("0.3 inch") == 7.62);
}

TEST_CASE("Millimetres stay what they are, and the book's unit stands in for none", "[number]") {
    CHECK(mm_of("76.2mm", LengthUnit::inch) == 76.2);
    CHECK(mm_of(" 76,2 mm ") == 76.2);
    CHECK(mm_of("12 um") == 0.012);
    CHECK(mm_of("12 \u00b5m") == 0.012);
    CHECK(mm_of("12\u03bcm") == 0.012);
    CHECK(mm_of("3 MM") == 3);
    CHECK(mm_of("2.998") == 2.998);
}

TEST_CASE("What was typed is kept with its unit", "[number]") {
    CHECK(length_from_typed(" 3-5/16\" ", LengthUnit::mm).text == "3-5/16 in");
    CHECK(length_from_typed("45,02", LengthUnit::mm).text == "45,02 mm");
    CHECK(length_from_typed("2.998", LengthUnit::inch).text == "2.998 in");
}

TEST_CASE("A wrong length is named with what is wrong", "[number]") {
    const auto refusal = [](const char* text) {
        try {
            mm_of(text);
        } catch (const WrongUse& error) {
            return std::string(error.what());
        }
        return std::string("nothing thrown");
    };
    CHECK(refusal("12 cm") ==
          "\"12 cm\" is no length: \"cm\" is no unit here; there are mm, um, in and thou");
    CHECK_THAT(refusal("3 5/15 in"), Catch::Contains("1/15 is none of them"));
    CHECK_THAT(refusal("3 17/16 in"), Catch::Contains("a whole inch or more"));
    CHECK_THAT(refusal("5/16 mm"), Catch::Contains("a fraction is of an inch, not of mm"));
    CHECK_THAT(refusal("5/16"), Catch::Contains("not of mm"));
    CHECK_THAT(refusal("1,250 mm"), Catch::Contains("1250 or 1.250"));
    for (const char* wrong :
         {"", "mm", "in", "3/ in", "/4 in", "3/0 in", "1 2 in", "1 2 3/4 in", "-1/2 in", "-3 mm", "1.5/2 in",
          "1 /2 in", "1/ 2 in", "3 -5/16 in", "1e3", "nan", "3 5", "5 ft", "3mm mm"}) {
        INFO(wrong);
        CHECK_THAT(refusal(wrong), Catch::StartsWith(std::string("\"")) && Catch::Contains("is no"));
    }
}

TEST_CASE("Lengths go out as an inch rule shows them", "[number]") {
    CHECK(inch_fraction(84.1375) == "3 5/16 in");
    CHECK(inch_fraction(25.4) == "1 in");
    CHECK(inch_fraction(0) == "0 in");
    CHECK(inch_fraction(0.396875) == "1/64 in");
    CHECK(inch_fraction(23.8125) == "15/16 in");
    CHECK(inch_fraction(84.2) == "about 3 5/16 in");
    CHECK(inch_fraction(25.3) == "about 1 in");
}

TEST_CASE("Every sixty-fourth up to ten inches comes back as it went out", "[number]") {
    for (int i = 1; i <= 640; ++i) {
        const double mm = i * 25.4 / 64;
        const auto text = inch_fraction(mm);
        INFO(text);
        CHECK(mm_of(text.c_str()) == Approx(mm).epsilon(1e-15));
    }
}
