#include "print/lettering.h"

#include <catch2/catch.hpp>

#include "print/characters.h"

using namespace stripbook::print;

namespace {
const Lettering lettering;
const Type type{Face::regular, 9};
}  // namespace

TEST_CASE("Wrapped lines fit and hold all the words in order", "[print]") {
    const std::string text =
        "Brake block, trailing, with Łódź-made hanger and a/very/long/path/name/of/a/drawing";
    for (const double width : {15.0, 22.0, 40.0, 90.0}) {
        std::string joined;
        for (const std::string& line : lettering.wrapped(text, type, width, 100)) {
            INFO(line);
            CHECK(lettering.width_mm(line, type) <= width);
            joined += line;
        }
        std::string without_spaces = text;
        std::erase(joined, ' ');
        std::erase(without_spaces, ' ');
        CHECK(joined == without_spaces);
    }
}

TEST_CASE("A word without a place to break is broken where the line ends", "[print]") {
    const std::string word(300, 'W');
    const auto lines = lettering.wrapped(word, type, 50, 100);
    CHECK(lines.size() > 10);
    for (const std::string& line : lines) {
        CHECK(lettering.width_mm(line, type) <= 50);
    }
    CHECK(lettering.wrapped("WW", type, 0.1, 100).size() == 2);
}

TEST_CASE("What does not fit into the lines allowed ends in an ellipsis", "[print]") {
    const auto lines = lettering.wrapped("one two three four five six seven eight", type, 20, 2);
    REQUIRE(lines.size() == 2);
    CHECK_THAT(lines[1], Catch::EndsWith("…"));
    CHECK(lettering.width_mm(lines[1], type) <= 20);
    CHECK(lettering.cut("short", type, 50) == "short");
    CHECK_THAT(lettering.cut("much too long for this", type, 20), Catch::EndsWith("…"));
    CHECK(lettering.wrapped("", type, 20, 2) == std::vector<std::string>{""});
}

TEST_CASE("Type is made smaller until a line fits, but not below the smallest", "[print]") {
    const std::string text = "PET-00417-D and more";
    const Type shrunk = lettering.shrunk(text, {Face::bold, 30}, 60, 6);
    CHECK(lettering.width_mm(text, shrunk) == Approx(60));
    CHECK(lettering.shrunk(text, {Face::bold, 30}, 10, 6).size_pt == 6);
    CHECK(lettering.shrunk(text, {Face::bold, 9}, 200, 6).size_pt == 9);
}
