#include "print/size_limit.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <string>
#include <vector>

#include "print/outside_tools.h"
#include "scratch_folder.h"

using namespace stripbook;
using print::ReportOptions;
using print::ReportResult;

namespace {

// A report whose size goes with the area of its pixels, beside what does not shrink.
struct Shrinking {
    double fixed_bytes;
    double bytes_per_squared_dot;
    test::ScratchFolder folder{};
    std::vector<double> tried{};

    ReportResult operator()(const ReportOptions& options) {
        tried.push_back(options.dots_per_inch);
        const double bytes =
            fixed_bytes + bytes_per_squared_dot * options.dots_per_inch * options.dots_per_inch;
        const auto file = folder / "report.pdf";
        test::write_file(file, std::string(static_cast<std::size_t>(bytes), 'x'));
        return {file, 1, 1, {}, ""};
    }
};

ReportResult within(std::uintmax_t most, Shrinking& report) {
    ReportOptions options;
    options.dots_per_inch = 200;
    return print::write_within(most, options, std::ref(report));
}

}  // namespace

TEST_CASE("A report that fits is written once and as it is", "[print]") {
    Shrinking report{1000, 1};
    CHECK(within(41000, report).remarks.empty());
    CHECK(report.tried == std::vector<double>{200});
}

TEST_CASE("A report too large for a mail is drawn with fewer dots until it fits", "[print]") {
    Shrinking report{1000, 1};
    const auto result = within(20000, report);
    CHECK(result.remarks.empty());
    CHECK(std::filesystem::file_size(result.file) <= 20000);
    // Few tries, and no more is thrown away than a third of what was allowed.
    CHECK(report.tried.size() <= 3);
    CHECK(std::filesystem::file_size(result.file) > 13000);
}

TEST_CASE("A report that cannot be made small enough is kept at the least dots, and says so", "[print]") {
    Shrinking report{50000, 1};
    const auto result = within(40000, report);
    REQUIRE(result.remarks.size() == 1);
    CHECK_THAT(result.remarks[0], Catch::Contains("report.pdf") && Catch::Contains("send it in parts"));
    CHECK(report.tried.back() == print::least_dots_per_inch);
    CHECK(std::filesystem::file_size(result.file) == 53600);
}
