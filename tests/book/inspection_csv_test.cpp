#include "book/inspection_csv.h"

#include "errors.h"
#include "sample_book.h"

using namespace stripbook;
using namespace stripbook::test;

namespace {

struct Bench {
    ScratchFolder scratch;
    book::Book b = new_book(scratch / "petrel");
    Bench() {
        book::save_part(b, book::Part(tag(417)), "Ana", "test");
        book::save_part(b, book::Part(tag(418)), "Ana", "test");
        add_photo(b, book::begin_dump(b, "card", "Ana"), 1);
    }
    int keep(const std::string& csv) {
        const auto file = scratch / "bench.csv";
        write_file(file, csv);
        const auto rows = book::read_session(b, file, {"Ana", "2026-11-25", number::LengthUnit::mm});
        return book::keep_session(b, rows, "bench.csv", "Ana");
    }
    std::string refusal(const std::string& csv) {
        return message_of<BadFile>([&] { keep(csv); });
    }
    [[nodiscard]] book::Inspection of(int serial) const { return book::inspection_of(b, tag(serial)); }
};

}  // namespace

TEST_CASE("A bench session brings findings, readings and limits of many parts", "[book]") {
    Bench bench;
    CHECK(bench.keep(
              "Reading,TAG,feature,at,instrument,u,by,date,at most,source,finding,where,how bad,photos\r\n"
              "45.02,417,bore,front,bore gauge,0.01,Ben,2026-11-24,45.10,works drawing 123,,,,\r\n"
              "1 49/64 in,417,bore,back,Bore gauge,,,,,,,,,\r\n"
              ",418,,,,,,,,,Crack,lower lug,\"through, 12 mm\",p1\r\n") == 4);
    const auto readings = bench.of(417).readings;
    REQUIRE(readings.size() == 2);
    CHECK(readings[0].entry.by == "Ben");
    CHECK(readings[0].entry.on == "2026-11-24");
    CHECK(readings[1].entry.by == "Ana");
    CHECK(readings[1].value_mm == 44.846875);  // 113 / 64 x 25.4
    CHECK(readings[1].typed == "1 49/64 in");
    CHECK(readings[1].u_mm == 0.01);  // the last one given for the instrument
    REQUIRE(bench.of(417).limits.size() == 1);
    CHECK(bench.of(417).limits[0].upper_mm == 45.10);
    REQUIRE(bench.of(418).findings.size() == 1);
    CHECK(book::words_of(bench.of(418).findings[0]) == "crack, lower lug: through, 12 mm (p1)");
}

TEST_CASE("Semicolons bring the decimal comma", "[book]") {
    Bench bench;
    CHECK(bench.keep("tag;feature;reading;u\n417;bore;45,020;0,010\n") == 1);
    CHECK(bench.of(417).readings.at(0).value_mm == 45.02);
    CHECK(bench.of(417).readings.at(0).u_mm == 0.01);
}

TEST_CASE("A bad row is named by its line, and nothing of the session is kept", "[book]") {
    Bench bench;
    const std::string good =
        "tag,feature,reading,at most,source,finding,where,photos,date\n417,bore,45.02,,,,,,\n";
    const auto row = [&](const std::string& cells) { return bench.refusal(good + cells + "\n"); };
    CHECK_THAT(row("417,bore,45.x,,,,,,"), Catch::StartsWith("bench.csv line 3: \"45.x\" is no"));
    CHECK_THAT(row("417,bore,\"45,020\",,,,,,"), Catch::Contains("45020 or 45.020"));
    CHECK_THAT(row("419,bore,45.02,,,,,,"), Catch::Contains("no part PET-00419"));
    CHECK_THAT(row("417,,45.02,,,,,,"), Catch::Contains("nothing under feature"));
    CHECK_THAT(row("417,bore,45.02,45.1,,,,,"), Catch::Contains("source of the limit"));
    CHECK_THAT(row("417,,,,,rust,,,"), Catch::Contains("\"rust\" is not a finding"));
    CHECK_THAT(row("417,,,,,,lug,,"), Catch::Contains("nothing under finding"));
    CHECK_THAT(row("417,,,,,wear,lug,p9,"), Catch::Contains("p9"));
    CHECK_THAT(row("417,,,,,,,,"), Catch::Contains("no finding, no reading and no limit"));
    CHECK_THAT(row("417,bore,45.02,,,,,,25.11.2026"), Catch::Contains("is not a date"));
    CHECK_THAT(row("417,bore,45.02,,,,,,2026-02-30"), Catch::Contains("is not a date"));
    CHECK_THAT(row("417,bore,45.02,,,,,,,9"), Catch::Contains("10 cells for 9 headings"));
    CHECK_THAT(bench.refusal("tag,reeding\n417,1\n"), Catch::Contains("no column \"reeding\""));
    CHECK_THAT(bench.refusal("feature,reading\nbore,1\n"), Catch::Contains("no column \"tag\""));
    CHECK_THAT(bench.refusal("tag,tag\n417,1\n"), Catch::Contains("twice"));
    CHECK(bench.of(417).empty());
}
