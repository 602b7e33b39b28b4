#include "number/tag_number.h"

#include <fmt/format.h>
#include <catch2/catch.hpp>

#include <stdexcept>

#include "errors.h"

using stripbook::WrongUse;
using stripbook::number::BookCode;
using stripbook::number::check_character;
using stripbook::number::TagNumber;

namespace {
const BookCode pet = BookCode::from_typed("PET");
}

TEST_CASE("The check character is that of published ISO/IEC 7064 MOD 37,36 examples", "[number]") {
    // GRid handbook, A1-2425G-ABC1234002-M
    CHECK(check_character("A12425GABC1234002") == 'M');
    // ISAN examples as python-stdnum 1.18 carries them (stdnum/isan.py)
    CHECK(check_character("00000000D07A0090") == 'Q');
    CHECK(check_character("00000000D07A009000000000") == 'X');
    CHECK(check_character("0000000189470000") == '8');
    CHECK(check_character("000000018947000000000000") == 'D');
    CHECK(check_character("188166C734206541") == 'Y');
    CHECK(check_character("188166C7342065419F3A0245") == 'O');
    CHECK_THROWS_AS(check_character("pet"), std::invalid_argument);
    CHECK_THROWS_AS(check_character(""), std::invalid_argument);
}

TEST_CASE("The check character catches every single wrong character and all but 0.51 % of swapped digits",
          "[number]") {
    // Counts computed independently of this program for PET00000..PET99999: 1,836 of 360,000 swaps pass.
    int passed_swaps = 0;
    int swaps = 0;
    for (int serial = 0; serial < 100000; ++serial) {
        const std::string digits = fmt::format("{:05}", serial);
        const char check = check_character("PET" + digits);
        for (std::size_t i = 0; i + 1 < digits.size(); ++i) {
            if (digits[i] == digits[i + 1]) {
                continue;
            }
            std::string swapped = digits;
            std::swap(swapped[i], swapped[i + 1]);
            ++swaps;
            passed_swaps += check_character("PET" + swapped) == check ? 1 : 0;
        }
    }
    CHECK(swaps == 360000);
    CHECK(passed_swaps == 1836);
    const std::string right = "PET00417";
    for (std::size_t i = 0; i < right.size(); ++i) {
        for (const char c : std::string("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ")) {
            std::string wrong = right;
            wrong[i] = c;
            CHECK((wrong == right) == (check_character(wrong) == 'D'));
        }
    }
}

TEST_CASE("Tag numbers print as the tag specification's examples", "[number]") {
    CHECK(TagNumber(pet, 1).text() == "PET-00001-O");
    CHECK(TagNumber(pet, 417).text() == "PET-00417-D");
    CHECK(TagNumber(pet, 99999).text() == "PET-99999-L");
    CHECK(TagNumber(BookCode::from_typed("oak"), 29565).text() == "OAK-29565-Q");
    CHECK(TagNumber(BookCode::from_typed("A7"), 586).text() == "A7-00586-Y");
    CHECK(TagNumber(BookCode::from_typed("A7"), 587).text() == "A7-00587-W");
    CHECK(TagNumber(BookCode::from_typed("W0RK"), 34568).text() == "W0RK-34568-E");
    CHECK_THROWS_AS(TagNumber(pet, 0), WrongUse);
    CHECK_THROWS_AS(TagNumber(pet, 100000), WrongUse);
}

TEST_CASE("A number read from a picture must be exact", "[number]") {
    REQUIRE(TagNumber::from_exact("PET-00417-D"));
    CHECK(TagNumber::from_exact("PET-00417-D")->serial() == 417);
    for (const char* wrong :
         {"PET-00417-E", "pet-00417-d", "PET-00417", "PET-417-D", "PET-00000-0", "P-00417-D", "PETRL-00417-D",
          "7ET-00417-D", "PET-00417-D ", "R/PET-00417-D", "PET-0041７-D", ""}) {
        INFO(wrong);
        CHECK_FALSE(TagNumber::from_exact(wrong));
    }
}

TEST_CASE("What a person types is understood, and a wrong check character is not", "[number]") {
    for (const char* typed : {"417", "00417", "PET-417", "pet-00417-d", " PET-00417-D ", "00417D", "00417-D",
                              "417-d", "pet-00417d"}) {
        INFO(typed);
        CHECK(TagNumber::from_typed(typed, pet) == TagNumber(pet, 417));
    }
    CHECK(TagNumber::from_typed("OAK-29565-Q", pet).book().text() == "OAK");
    for (const char* wrong : {"", "  ", "0", "417D", "PET-00417-E", "100000", "PET", "PET-", "PET--D", "4l7",
                              "-417", "417-", "417-DD"}) {
        INFO(wrong);
        CHECK_THROWS_AS(TagNumber::from_typed(wrong, pet), WrongUse);
    }
}

TEST_CASE("Book codes are 2 to 4 letters and digits, the first a letter", "[number]") {
    CHECK(BookCode::from_typed("a7").text() == "A7");
    for (const char* wrong : {"", "P", "PETRL", "7A", "P-T", "PÉT"}) {
        INFO(wrong);
        CHECK_THROWS_AS(BookCode::from_typed(wrong), WrongUse);
    }
}
