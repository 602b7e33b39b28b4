#include "print/printable_text.h"

#include <catch2/catch.hpp>

using namespace stripbook::print;

namespace {
const Lettering lettering;
}

TEST_CASE("Scripts that need no shaping are printed as they are written", "[print]") {
    PrintableText printable(lettering, "PET-00417-D");
    for (const char* text :
         {"Axlebox cover", "Büchse für Läufer Ø 25 ½″", "Łożysko ślizgowe", "Κάλυμμα άξονα", "Крышка буксы",
          "Աանիվ", "ქართული", "<b>\"it's\" & so on</b>", "±0,05 µm → ok", ""}) {
        CHECK(printable(text, "name") == text);
    }
    CHECK(printable("Bu\u0308chse", "name") == "Büchse");
    CHECK(printable.remarks().empty());
}

TEST_CASE("Text that would come out wrong is replaced by a note, and remarked on", "[print]") {
    struct Case {
        const char* text;
        const char* why;
    };
    for (const Case& c : {Case{"غطاء محور", "in Arabic script"},
                          Case{"מכסה", "in Hebrew script"},
                          Case{"ܬܪܥܐ", "in Syriac script"},
                          Case{"ދިވެހި", "in Thaana script"},
                          Case{"ߒߞߏ", "in N'Ko script"},
                          Case{"धुरी", "in Devanagari script"},
                          Case{"ঢাকনা", "in Bengali script"},
                          Case{"மூடி", "in Tamil script"},
                          Case{"ฝาครอบ", "in Thai script"},
                          Case{"ຝາ", "in Lao script"},
                          Case{"ཁ་ལེབ", "in Tibetan script"},
                          Case{"គម្រប", "in Khmer script"},
                          Case{"အဖုံး", "in Myanmar script"},
                          Case{"軸箱", "in Chinese or Japanese script"},
                          Case{"カバー", "in Japanese script"},
                          Case{"덮개", "in Korean script"},
                          Case{"cover 😀", "with picture signs (emoji)"},
                          Case{"x\u0323\u0302\u0301", "with combined marks"},
                          Case{"ok \U00012000", "with characters that the report's type lacks"},
                          Case{"Axlebox غطاء", "in Arabic script"}}) {
        PrintableText printable(lettering, "PET-00417-D");
        const std::string printed = printable(c.text, "name");
        INFO(c.text);
        CHECK_THAT(printed, Catch::StartsWith(std::string("(name ") + c.why));
        CHECK_THAT(printed, !Catch::Contains(c.text));
        REQUIRE(printable.remarks().size() == 1);
        CHECK_THAT(printable.remarks()[0],
                   Catch::StartsWith("PET-00417-D: the name is ") && Catch::Contains(c.why));
    }
}

TEST_CASE("The note says how many characters there are and where to read them", "[print]") {
    PrintableText printable(lettering, "PET-00417-D");
    CHECK(printable("غطاء محور", "name") ==
          "(name in Arabic script, 9 characters: this report cannot print it; see the parts list)");
    printable("غطاء محور", "name");
    CHECK(printable.remarks().size() == 1);
}
