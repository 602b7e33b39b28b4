#include "measure/budget.h"

#include <catch2/catch.hpp>
#include <cmath>

using namespace stripbook::measure;

TEST_CASE("The end gauge of the GUM has its combined uncertainty and degrees of freedom", "[measure]") {
    // JCGM 100:2008, H.1, in nm: standard 25 (18 degrees of freedom); difference 5.8 (24), 3.9 (5), 6.7 (8);
    // expansion 2.9 (50), temperature 16.6 (2). u_c 32 nm, 16.7 effective degrees of freedom.
    Budget difference;
    difference.components = {
        {"scatter", 5.8, 24}, {"comparator, random", 3.9, 5}, {"comparator, systematic", 6.7, 8}};
    CHECK(difference.combined() == Approx(9.7).margin(0.05));
    CHECK(difference.effective_degrees_of_freedom() == Approx(25.4).margin(0.1));
    Budget length;
    const double expansion = 50.000623e6 * 0.1 * 1e-6 / std::sqrt(3.0);
    const double temperature = 50.000623e6 * 11.5e-6 * 0.05 / std::sqrt(3.0);
    length.components = {{"standard", 25, 18},
                         {"difference", difference.combined(), difference.effective_degrees_of_freedom()},
                         {"expansion", expansion, 50},
                         {"temperature", temperature, 2}};
    CHECK(expansion == Approx(2.9).margin(0.05));
    CHECK(temperature == Approx(16.6).margin(0.05));
    CHECK(std::round(length.combined()) == 32);
    CHECK(length.effective_degrees_of_freedom() == Approx(16.7).margin(0.1));
    CHECK(length.expanded() == Approx(2 * length.combined()));
}

TEST_CASE("A rectangle's standard uncertainty is its half width over root three", "[measure]") {
    CHECK(u_of_rectangle(0.40e-6) == Approx(0.23e-6).margin(0.005e-6));  // GUM 4.3.7
    CHECK(std::isinf(Budget{{{"only", 1, 0}}}.effective_degrees_of_freedom()));
}

TEST_CASE("Value and uncertainty are rounded as the GUM advises", "[measure]") {
    // GUM 7.2.6: 10.057 62 with 27 thousandths is 10.058.
    CHECK(rounded(10.05762, 0.027).value_text == "10.058");
    CHECK(rounded(10.05762, 0.027).expanded_text == "0.027");
    CHECK(rounded(193.2478, 0.2351).value_text == "193.25");
    CHECK(rounded(193.2478, 0.2351).expanded_text == "0.24");
    CHECK(rounded(193.2478, 0.4).value_text == "193.2");
    CHECK(rounded(193.2478, 0.4).expanded_text == "0.4");
    CHECK(rounded(15123.7, 130).expanded_text == "130");
    // Never much smaller than it is.
    CHECK(rounded(1, 0.347).expanded == Approx(0.4));
    CHECK(rounded(-0.02, 0.5).value_text == "0.0");
}

TEST_CASE("Ties go to the even digit, whatever the binary form", "[measure]") {
    // ISO 80000-1 Annex B.
    CHECK(text_with_decimals(12.223, 1) == "12.2");
    CHECK(text_with_decimals(12.251, 1) == "12.3");
    CHECK(text_with_decimals(12.275, 1) == "12.3");
    CHECK(text_with_decimals(12.25, 1) == "12.2");
    CHECK(text_with_decimals(12.35, 1) == "12.4");
    CHECK(text_with_decimals(-12.35, 1) == "-12.4");
}
