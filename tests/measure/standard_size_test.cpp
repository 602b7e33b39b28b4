#include "measure/standard_size.h"

#include <algorithm>
#include <catch2/catch.hpp>

using namespace stripbook::measure;

namespace {

double size_named(const std::string& name) {
    const auto& all = standard_hole_sizes();
    const auto found = std::find_if(all.begin(), all.end(), [&](const auto& s) { return s.name == name; });
    REQUIRE(found != all.end());
    return found->diameter_mm;
}

}  // namespace

TEST_CASE("Core diameters are those of the thread tables", "[measure]") {
    // BS 84: cores of 1/4, 3/8 and 1 in BSW are .1860, .2950 and .8400 in.
    CHECK(size_named("1/4 BSW, core of a tapped hole") / 25.4 == Approx(0.1860).margin(1e-4));
    CHECK(size_named("3/8 BSW, core of a tapped hole") / 25.4 == Approx(0.2950).margin(1e-4));
    CHECK(size_named("1 BSW, core of a tapped hole") / 25.4 == Approx(0.8400).margin(1e-4));
    CHECK(size_named("1/4 UNC, major diameter") == Approx(6.35));
}

TEST_CASE("A standard size is named only within U, nearest first", "[measure]") {
    const auto near = nearest_standard_sizes(13.45, 0.12);
    REQUIRE_FALSE(near.empty());
    CHECK(near.front().name == "M12 clearance, medium (ISO 273)");
    CHECK(nearest_standard_sizes(30, 0.2).empty());
    CHECK(nearest_standard_sizes(9.0, 2).size() == 3);
}
