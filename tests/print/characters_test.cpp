#include "print/characters.h"

#include <catch2/catch.hpp>

using namespace stripbook::print;

TEST_CASE("Text is composed as Unicode's normalization form C says", "[print]") {
    // Unicode Standard Annex #15, figures 3 to 5
    CHECK(characters_of("\u212B") == U"\u00C5");
    CHECK(characters_of("A\u030A") == U"\u00C5");
    CHECK(characters_of("s\u0323\u0307") == U"\u1E69");
    CHECK(characters_of("d\u0307") == U"\u1E0B");
    CHECK(characters_of("\uFB01") == U"\uFB01");
}

TEST_CASE("What is no text is written out so that it can be seen", "[print]") {
    CHECK(utf8_of(characters_of("a\xFFz")) == "a\\xFFz");
    CHECK(utf8_of(characters_of("\xC3")) == "\\xC3");
    CHECK(utf8_of(characters_of("\xED\xA0\x80")) == "\\xED\\xA0\\x80");  // half of a surrogate pair
    CHECK(utf8_of(characters_of(std::string("a\0b", 3))) == "a\\u{0000}b");
    CHECK(utf8_of(characters_of("\u202Egpj.exe")) == "\\u{202E}gpj.exe");
    CHECK(utf8_of(characters_of("two\r\nlines\tand\u00A0space")) == "two  lines and space");
}

TEST_CASE("Long text is cut to a number of characters", "[print]") {
    CHECK(first_characters("Łódź", 4) == "Łódź");
    CHECK(first_characters("Łódź!", 4) == "Łód…");
}
