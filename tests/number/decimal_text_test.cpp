#include "number/decimal_text.h"

#include <catch2/catch.hpp>

#include "errors.h"

using namespace stripbook;
using number::Comma;
using number::decimal_from_typed;

TEST_CASE("A decimal number is kept exactly, with a point or a comma", "[number]") {
    CHECK(decimal_from_typed("2.998").digits == 2998);
    CHECK(decimal_from_typed("2.998").places == 3);
    CHECK(decimal_from_typed("2.998").value() == 2.998);
    CHECK(decimal_from_typed("45,02").value() == 45.02);
    CHECK(decimal_from_typed(".998").value() == 0.998);
    CHECK(decimal_from_typed("007").value() == 7);
    CHECK(decimal_from_typed("0,125").value() == 0.125);
    CHECK(decimal_from_typed("45,0205").value() == 45.0205);
    CHECK(decimal_from_typed("8.4666666666666667").value() == 25.4 / 3);  // a double written out in full
    CHECK(decimal_from_typed("000000000000000000.5").value() == 0.5);
}

TEST_CASE("A comma that could part thousands is asked about, unless it can only be the decimal mark",
          "[number]") {
    CHECK_THROWS_WITH(decimal_from_typed("1,250"), Catch::Contains("1250 or 1.250"));
    CHECK(decimal_from_typed("1,250", Comma::decimal_mark).value() == 1.25);
}

TEST_CASE("What is no decimal number is named", "[number]") {
    for (const char* wrong : {"", ".", ",", "1.", "1,", "-1", "+1", "1e3", "1.2.3", "1.234,5", "1,234.5",
                              "nan", "inf", "0x10", " 1", "1 ", "1'000", "123456789012345678", "\u0661"}) {
        INFO(wrong);
        CHECK_THROWS_AS(decimal_from_typed(wrong), WrongUse);
        CHECK_THROWS_WITH(decimal_from_typed(wrong), Catch::Contains(wrong));
    }
}
