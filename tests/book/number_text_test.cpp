#include "book/number_text.h"

#include <clocale>
#include <cstdlib>
#include <limits>

#include "sample_book.h"

using namespace stripbook;

TEST_CASE("Numbers are read and written the same under every locale", "[book]") {
    // Debian images hold no such locale ready made, but its source where the package "locales" is there.
    const test::ScratchFolder scratch;
    const std::string made = (scratch / "de_DE.UTF-8").string();
    test::output_of("localedef -i de_DE -f UTF-8 \"" + made + "\" >&2 || true");
    setenv("LOCPATH", scratch.path().c_str(), 1);
    if (std::setlocale(LC_ALL, "de_DE.UTF-8") == nullptr) {
        WARN("this machine cannot make a locale with a decimal comma; tested under C only");
    } else {
        CHECK(std::string(std::localeconv()->decimal_point) == ",");
    }
    CHECK(book::number_text(84.1375) == "84.1375");
    CHECK(book::number_text(16) == "16");
    CHECK(book::number_text(1e-7) == "0.0000001");
    CHECK(book::number_from("84.1375") == 84.1375);
    CHECK(book::number_from(".5") == 0.5);
    for (const char* wrong : {"", "-", "1,5", "1e3", "nan", "inf", "0x10", " 1", "1 ", "1.2.3", "--1"}) {
        INFO(wrong);
        CHECK_FALSE(book::number_from(wrong));
    }
    CHECK(book::whole_from("007") == 7);
    for (const char* wrong : {"", "-1", "+1", "1.0", "2147483648", "1a"}) {
        CHECK_FALSE(book::whole_from(wrong));
    }
    std::setlocale(LC_ALL, "C");
    unsetenv("LOCPATH");
}

TEST_CASE("A written number reads back as the same number", "[book]") {
    for (const double value :
         {0.1, 1.0 / 3, 25.4 * 3.3125, 1e15 + 0.5, std::numeric_limits<double>::max(), 5e-324}) {
        CHECK(std::strtod(book::number_text(value).c_str(), nullptr) == value);
    }
}
