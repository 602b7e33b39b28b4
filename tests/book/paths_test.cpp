#include "book/paths.h"

#include <iconv.h>

#include <cstdint>

#include "book/utf8.h"
#include "sample_book.h"

using namespace stripbook;
using book::keepable_name;
using book::printable_name;

namespace {

// The C library's own judgement of UTF-8, by converting it to UTF-32.
bool iconv_takes(std::string text) {
    iconv_t converter = iconv_open("UTF-32LE", "UTF-8");
    REQUIRE(reinterpret_cast<std::intptr_t>(converter) != -1);
    std::array<char, 64> out{};
    char* from = text.data();
    char* to = out.data();
    std::size_t from_left = text.size();
    std::size_t to_left = out.size();
    const bool taken = iconv(converter, &from, &from_left, &to, &to_left) != static_cast<std::size_t>(-1);
    iconv_close(converter);
    return taken;
}

}  // namespace

TEST_CASE("Names that every file system keeps stay as they are", "[book]") {
    for (const char* name :
         {"DCIM/101FERRO/FVA_9993.JPG", "DCIM/Été à la gare.JPG", "a b.c.d", "محطة.jpg", "駅.heic"}) {
        CHECK(keepable_name(name) == name);
    }
    CHECK(book::dump_folder(1) == "photos/0001");
    CHECK(book::dump_folder(12345) == "photos/12345");
}

TEST_CASE("Names that a file system would not keep are written with %XX", "[book]") {
    CHECK(keepable_name("../../etc/passwd") == "%2E%2E/%2E%2E/etc/passwd");
    CHECK(keepable_name("/etc//passwd/") == "etc/passwd");
    CHECK(keepable_name("./.hidden") == "%2E/%2Ehidden");
    CHECK(keepable_name("a\\b:c*d?e\"f<g>h|i%j") == "a%5Cb%3Ac%2Ad%3Fe%22f%3Cg%3Eh%7Ci%25j");
    CHECK(keepable_name("new\nline\x1b[31m\x7f") == "new%0Aline%1B[31m%7F");
    CHECK(keepable_name("ends. . ") == "ends%2E%20%2E%20");
    CHECK(keepable_name("Caf\xe9.JPG") == "Caf%E9.JPG");  // Latin-1
    CHECK(keepable_name("photo\xe2\x80\xaegpj.exe") ==
          "photo%E2%80%AEgpj.exe");                    // U+202E turns the text around
    CHECK(keepable_name("a\xc2\x85z") == "a%C2%85z");  // U+0085, a C1 control
    CHECK(keepable_name(std::string("nul\0.JPG", 8)) == "nul%00.JPG");
    CHECK(keepable_name("") == "unnamed");
    CHECK(keepable_name("///") == "unnamed");
}

TEST_CASE("A very long name is cut between characters and keeps its extension", "[book]") {
    std::string accents;
    for (int i = 0; i < 150; ++i) {
        accents += "é";  // two bytes each
    }
    const std::string cut = keepable_name("DCIM/" + accents + ".JPEG");
    CHECK(cut.size() <= 5 + 200);
    CHECK(cut.size() >= 5 + 198);
    CHECK_THAT(cut, Catch::EndsWith("é.JPEG"));
    CHECK_FALSE(book::first_wrong_byte(cut));
    const std::string escapes = keepable_name(std::string(250, '\xff') + ".JPG");
    CHECK(escapes.size() == 66 * 3 - 3 + 4);  // 65 whole %FF and .JPG; one more would be 202 bytes
    CHECK_THAT(escapes, Catch::EndsWith("%FF.JPG"));
    CHECK(keepable_name(std::string(300, 'x')).size() == 200);
    CHECK(keepable_name("x." + std::string(300, 'y')).size() == 200);
}

TEST_CASE("Printed names never break a line or a terminal", "[book]") {
    CHECK(printable_name("DCIM/Été محطة 駅.JPG") == "DCIM/Été محطة 駅.JPG");
    CHECK(printable_name("red\x1b[31m\r\nline\t\x7f") == "red\\x1B[31m\\x0D\\x0Aline\\x09\\x7F");
    CHECK(printable_name("\xc0\xaf") == "\\xC0\\xAF");                    // overlong "/"
    CHECK(printable_name("\xe0\x80\xaf") == "\\xE0\\x80\\xAF");           // the same in three bytes
    CHECK(printable_name("\xed\xa0\x80") == "\\xED\\xA0\\x80");           // a surrogate, U+D800
    CHECK(printable_name("\xf4\x90\x80\x80") == "\\xF4\\x90\\x80\\x80");  // above U+10FFFF
    CHECK(printable_name("\xe2\x82") == "\\xE2\\x82");                    // cut short
    CHECK(printable_name("\xc2\x9b") == "\\xC2\\x9B");                    // C1, a terminal's command
    CHECK(printable_name("\xe2\x80\xa8\xe2\x81\xa6") == "\\xE2\\x80\\xA8\\xE2\\x81\\xA6");
    CHECK(printable_name("\xf0\x9f\x94\xa7") == "\xf0\x9f\x94\xa7");  // U+1F527 is a fine character
}

TEST_CASE("Well-formed UTF-8 is what iconv takes", "[book]") {
    // Every lead byte with a few followers.
    for (int lead = 0x7F; lead <= 0xFF; ++lead) {
        for (const std::string& rest :
             {std::string(), std::string("\x80"), std::string("\xa0\x80"), std::string("\x9f\xbf"),
              std::string("\x8f\xbf\xbf"), std::string("\x90\x80\x80"), std::string("\xbf\xbf\xbf")}) {
            const std::string text = static_cast<char>(lead) + rest;
            INFO(printable_name(text));
            CHECK(!book::first_wrong_byte(text) == iconv_takes(text));
        }
    }
}
