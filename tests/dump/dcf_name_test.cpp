#include "dump/dcf_name.h"

#include <catch2/catch.hpp>
#include <utility>

namespace {

std::pair<int, int> numbers(const std::string& name) {
    int directory = -1;
    int counter = -1;
    stripbook::dump::dcf_numbers(name, directory, counter);
    return {directory, counter};
}

}  // namespace

// Rules: CIPA DC-009 (DCF), folder and file names.
TEST_CASE("names that follow DCF give their folder and file numbers, in either case") {
    CHECK(numbers("DCIM/100FERRO/FVA_0001.JPG") == std::pair(100, 1));
    CHECK(numbers("DCIM/999_____/00009999.TIF") == std::pair(999, 9999));
    CHECK(numbers("dcim/101ferro/fva_0417.jpg") == std::pair(101, 417));
    CHECK(numbers("DCIM/100APPLE/IMG_0042.HEIC") == std::pair(100, 42));
}

TEST_CASE("names that break DCF give no numbers") {
    CHECK(numbers("DCIM/099FERRO/FVA_0001.JPG") == std::pair(0, 0));
    CHECK(numbers("DCIM/1000FERR/FVA_0001.JPG") == std::pair(100, 1));  // 0 is a free character
    CHECK(numbers("DCIM/100FERR/FVA_0001.JPG") == std::pair(0, 0));
    CHECK(numbers("DCIM/100FERROS/FVA_0001.JPG") == std::pair(0, 0));
    CHECK(numbers("DCIM/100FER-O/FVA_0001.JPG") == std::pair(0, 0));
    CHECK(numbers("DCIM/A00FERRO/FVA_0001.JPG") == std::pair(0, 0));
    CHECK(numbers("DCIM/100FERRO/FVA_0000.JPG") == std::pair(100, 0));
    CHECK(numbers("DCIM/100FERRO/FVA-0001.JPG") == std::pair(100, 0));
    CHECK(numbers("DCIM/100FERRO/FVA_00001.JPG") == std::pair(100, 0));
    CHECK(numbers("DCIM/100FERRO/FVA_000A.JPG") == std::pair(100, 0));
    CHECK(numbers("DCIM/100FERRO/FVA_0001JPG") == std::pair(100, 0));
    CHECK(numbers("DCIM/100FERRO/FVA_0001.J G") == std::pair(100, 0));
    CHECK(numbers("DCIM/100FERRO/FVA_0001.") == std::pair(100, 0));
    CHECK(numbers("") == std::pair(0, 0));
}

TEST_CASE("only files directly in a DCF folder of DCIM count") {
    CHECK(numbers("100FERRO/FVA_0001.JPG") == std::pair(0, 0));
    CHECK(numbers("DCIM/FVA_0001.JPG") == std::pair(0, 0));
    CHECK(numbers("DCIM/100FERRO/100FERRO/FVA_0001.JPG") == std::pair(0, 0));
    CHECK(numbers("OLD/DCIM/100FERRO/FVA_0001.JPG") == std::pair(0, 0));
    CHECK(numbers("MISC/100FERRO/FVA_0001.JPG") == std::pair(0, 0));
}
