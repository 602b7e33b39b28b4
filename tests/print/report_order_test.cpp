#include "print/report_order.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <string>

#include "print/sample_part.h"

using namespace stripbook;
using print::counts_before;

namespace {

book::Part part_of(int number, const std::string& assembly) {
    book::Part part(number::TagNumber(number::BookCode::from_typed("PET"), number));
    part.assembly = assembly;
    return part;
}

}  // namespace

TEST_CASE("Names are put in order as people count", "[print]") {
    CHECK(counts_before("Axle 2", "Axle 10"));
    CHECK_FALSE(counts_before("Axle 10", "Axle 2"));
    CHECK(counts_before("axle 2", "Axle 3"));
    CHECK_FALSE(counts_before("Axle 02", "axle 2"));
    CHECK_FALSE(counts_before("axle 2", "Axle 02"));
    CHECK(counts_before("Axle", "Axle 1"));
    CHECK(counts_before("Bogie 1", "Bogie 1 left"));
    CHECK(counts_before("9", "10"));
    // More digits than any number of the machine holds.
    CHECK(counts_before("99999999999999999999", "100000000000000000000"));
    CHECK_FALSE(counts_before("", ""));
}

TEST_CASE("An assembly comes before what lies in it, and parts without one come last", "[print]") {
    std::vector<book::Part> parts{part_of(9, ""),
                                  part_of(2, "Running gear / Axle 10"),
                                  part_of(3, "Running gear / Axle 2"),
                                  part_of(8, "Running gear"),
                                  part_of(7, "Brake"),
                                  part_of(5, "Running gear / Axle 2"),
                                  part_of(4, "running gear / Axle 2 / Left"),
                                  part_of(1, "")};
    const std::vector<int> wanted{7, 8, 3, 5, 4, 2, 1, 9};
    std::sort(parts.begin(), parts.end(), [](const auto& a, const auto& b) { return a.tag < b.tag; });
    print::sort_for_report(parts);
    std::vector<int> order;
    for (const auto& part : parts) {
        order.push_back(part.tag.serial());
    }
    CHECK(order == wanted);
}
