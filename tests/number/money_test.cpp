#include "number/money.h"

#include <catch2/catch.hpp>

#include "errors.h"

using namespace stripbook;
using number::cents_from_typed;
using number::money_text;

TEST_CASE("Money is whole cents, with a point or a comma", "[number]") {
    CHECK(cents_from_typed("12.50") == 1250);
    CHECK(cents_from_typed("12,5") == 1250);
    CHECK(cents_from_typed("12") == 1200);
    CHECK(cents_from_typed("0.07") == 7);
    CHECK(cents_from_typed("1000000") == 100000000);
    for (const char* wrong : {"", "-1", "12.505", "1,250", "12 GBP", "1.000,50", "123456789012"}) {
        INFO(wrong);
        CHECK_THROWS_AS(cents_from_typed(wrong), WrongUse);
    }
    CHECK_THROWS_WITH(cents_from_typed("12.505"), Catch::Contains("\"12.505\" is no amount of money"));
}

TEST_CASE("Money goes out with its cents and its currency", "[number]") {
    CHECK(money_text(1250, "GBP") == "12.50 GBP");
    CHECK(money_text(7, "") == "0.07");
    CHECK(money_text(0, "") == "0.00");
}
