#include "print/font_file.h"

#include <catch2/catch.hpp>
#include <sstream>

#include "errors.h"
#include "print/outside_tools.h"
#include "scratch_folder.h"

using stripbook::print::FontFile;

namespace {
const std::string sans = "/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf";
}

TEST_CASE("A font covers exactly the characters that fontconfig finds in it", "[print]") {
    const FontFile font = FontFile::read(sans);
    std::vector<bool> expected(0x10000, false);
    // "20-7e a0-2e9 2f3 ...", hexadecimal
    std::istringstream ranges(stripbook::test::run_tool({"fc-query", "-f", "%{charset}", sans}).output);
    std::string range;
    while (ranges >> range) {
        const auto hyphen = range.find('-');
        const auto first = std::stoul(range, nullptr, 16);
        const auto last =
            hyphen == std::string::npos ? first : std::stoul(range.substr(hyphen + 1), nullptr, 16);
        for (auto c = first; c <= last && c < expected.size(); ++c) {
            expected[c] = true;
        }
    }
    REQUIRE(expected[U'A']);
    int differing = 0;
    for (char32_t c = 0x20; c < expected.size(); ++c) {
        // characters.
        differing += font.covers(c) == expected[c] ? 0 : 1;
    }
    CHECK(differing == 0);
    CHECK_FALSE(font.covers(0x1F600));
}

TEST_CASE("A missing or broken font file is said in plain words", "[print]") {
    const stripbook::test::ScratchFolder folder;
    CHECK_THROWS_AS(FontFile::read(folder / "none.ttf"), stripbook::OutsideError);
    const std::string whole = stripbook::test::read_file(sans);
    for (const std::size_t length : {0, 3, 11, 40, 300, 5000}) {
        stripbook::test::write_file(folder / "cut.ttf", whole.substr(0, length));
        INFO(length);
        CHECK_THROWS_WITH(FontFile::read(folder / "cut.ttf"), Catch::Contains("fonts-dejavu-core"));
    }
}
