#include "photo/one_line.h"

#include <catch2/catch.hpp>

using namespace std::string_literals;
using stripbook::photo::one_line;

TEST_CASE("Text of a file loses the blanks around it and what stands behind a NUL", "[photo][text]") {
    CHECK(one_line("  NIKON CORPORATION \0\0"s) == "NIKON CORPORATION");
    CHECK(one_line("Canon\0\x12\x34 rubbish"s) == "Canon");
    CHECK(one_line("\0\0 Petrel"s) == "Petrel");
    CHECK(one_line("   \0 "s).empty());
    CHECK(one_line("").empty());
    CHECK(one_line("two words") == "two words");
}

TEST_CASE("Control characters cannot reach the terminal", "[photo][text]") {
    CHECK(one_line("a\nb\tc\x1b[2Jd\x7F") == "a b c [2Jd");
    CHECK(one_line("a\xC2\x9B"
                   "2Jb") == "a 2Jb");  // U+009B, the one-byte form of ESC [
}

TEST_CASE("What is no UTF-8 is replaced, what is stays", "[photo][text]") {
    CHECK(one_line("Schweizer Überzug 5 µm – 日本 🚂") == "Schweizer Überzug 5 µm – 日本 🚂");
    const std::string r = "\xEF\xBF\xBD";
    // Malformed sequences of RFC 3629: a Latin-1 byte, a stray continuation, overlong forms, a surrogate,
    // beyond U+10FFFF, a character cut off at the end.
    CHECK(one_line("\xFC"
                   "ber") == r + "ber");
    CHECK(one_line("a\x80") == "a" + r);
    CHECK(one_line("\xC0\xAF") == r + r);
    CHECK(one_line("\xE0\x80\xAF") == r + r + r);
    CHECK(one_line("\xF0\x80\x80\xAF") == r + r + r + r);
    CHECK(one_line("\xED\xA0\x80") == r + r + r);
    CHECK(one_line("\xF4\x90\x80\x80") == r + r + r + r);
    CHECK(one_line("a\xE2\x82") == "a" + r + r);
    // The first and last of each length.
    for (const std::string& good : {"\xC3\x80"s, "\xDF\xBF"s, "\xE0\xA0\x80"s, "\xED\x9F\xBF"s,
                                    "\xEF\xBF\xBD"s, "\xF0\x90\x80\x80"s, "\xF4\x8F\xBF\xBF"s}) {
        CHECK(one_line(good) == good);
    }
}

TEST_CASE("Long text is cut", "[photo][text]") {
    CHECK(one_line(std::string(2000, 'x')).size() == 500);
    CHECK(one_line(std::string(2000, 'x'), 20).size() == 20);
}
