#include "book/inspection.h"

#include "book/history.h"
#include "book/judged_features.h"
#include "errors.h"
#include "sample_book.h"

using namespace stripbook;
using namespace stripbook::test;

namespace {

book::GaugeReading reading(const std::string& feature, double mm, std::optional<double> u_mm,
                           const std::string& spot = "") {
    return {{0, "Ana", "2026-11-25"}, feature, spot, mm, std::to_string(mm) + " mm", u_mm, "bore gauge"};
}

book::GaugeLimit limit(const std::string& feature, std::optional<double> lower, std::optional<double> upper) {
    return {{0, "Ana", "2026-11-25"},
            feature,
            false,
            lower,
            upper,
            lower ? "the lower" : "",
            upper ? "the upper" : "",
            "works drawing 123"};
}

struct Bench {
    ScratchFolder scratch;
    book::Book b = new_book(scratch / "petrel");
    book::DumpId dump{};
    Bench() {
        book::save_part(b, book::Part(tag(417)), "Ana", "test");
        book::save_part(b, book::Part(tag(418)), "Ana", "test");
        dump = book::begin_dump(b, "card", "Ana");
        add_photo(b, dump, 1);
        add_photo(b, dump, 2);
    }
    std::int64_t add(const book::GaugeReading& r) { return book::add_reading(b, tag(417), r, "Ben"); }
    std::int64_t add(const book::GaugeLimit& l) { return book::add_limit(b, tag(417), l, "Ben"); }
    [[nodiscard]] std::vector<book::JudgedFeature> judged() const {
        return book::judged_features(book::inspection_of(b, tag(417)), {});
    }
};

}  // namespace

TEST_CASE("A finding says what, where, how bad and in which photos", "[book]") {
    Bench bench;
    const auto number = book::add_finding(
        bench.b, tag(417), {{0, "Ana", "2026-11-25"}, "crack", "lower lug", "through, 12 mm", {{1}, {2}}},
        "Ben");
    const auto findings = book::inspection_of(bench.b, tag(417)).findings;
    REQUIRE(findings.size() == 1);
    CHECK(book::words_of(findings[0]) == "crack, lower lug: through, 12 mm (p1, p2)");
    CHECK(findings[0].entry.number == number);
    CHECK(findings[0].entry.by == "Ana");
    CHECK(findings[0].entry.who == "Ben");
    CHECK(book::history_of(bench.b, "PET-00417-D").back().after ==
          "crack, lower lug: through, 12 mm (p1, p2)");
    CHECK_THROWS_AS(book::add_finding(bench.b, tag(417), {{}, "rust", "", "", {}}, "Ben"), WrongUse);
    CHECK_THROWS_AS(book::add_finding(bench.b, tag(417), {{}, "wear", "", "", {{3}}}, "Ben"), WrongUse);
    CHECK_THROWS_AS(book::add_finding(bench.b, tag(9), {{}, "wear", "", "", {}}, "Ben"), WrongUse);
}

TEST_CASE("A correction keeps what it corrects, and only one may", "[book]") {
    Bench bench;
    const auto first = bench.add(reading("bore", 45.2, 0.01));
    auto right = reading("bore", 45.02, 0.01);
    right.entry.corrects = first;
    const auto second = bench.add(right);
    const auto all = book::inspection_of(bench.b, tag(417)).readings;
    REQUIRE(all.size() == 2);
    CHECK_FALSE(all[0].entry.stands());
    CHECK(all[0].entry.corrected_by == second);
    CHECK(all[1].entry.stands());
    CHECK_THAT(message_of<WrongUse>([&] { bench.add(right); }),
               Catch::Contains("was corrected by entry " + std::to_string(second)));
    const auto change = book::history_of(bench.b, "PET-00417-D").back();
    CHECK_THAT(change.before, Catch::Contains("45.2"));
    CHECK_THAT(change.after, Catch::Contains("45.02"));
    auto wrong_kind = limit("bore", 1, 2);
    wrong_kind.entry.corrects = second;
    CHECK_THAT(message_of<WrongUse>([&] { bench.add(wrong_kind); }),
               Catch::Contains("is a reading, not a limit"));
    CHECK_THROWS_AS(book::take_back_entry(bench.b, tag(418), second, "wrong part", "Ana"), WrongUse);
    CHECK_THROWS_AS(book::take_back_entry(bench.b, tag(417), second, "", "Ana"), WrongUse);
    book::take_back_entry(bench.b, tag(417), second, "wrong part", "Ana");
    CHECK(book::inspection_of(bench.b, tag(417)).readings[1].entry.why_corrected == "wrong part");
    CHECK(bench.judged().empty());
    const auto file = bench.scratch / "petrel" / "book.db";
    CHECK(sqlite3_of(file, "SELECT count(*) FROM gauge_reading") == "2");
    CHECK_THAT(output_of("sqlite3 '" + file.string() + "' 'DELETE FROM inspection' 2>&1; true"),
               Catch::Contains("nothing is deleted"));
}

TEST_CASE("Readings are judged by ISO 14253-1 with U = 2 u", "[book]") {
    // Flange thickness of a steam locomotive's wheel, condemned at 15/16 in (49 CFR 230.113(g)); u 0.15 mm.
    Bench bench;
    bench.add(limit("Flange", 23.8125, std::nullopt));
    for (const double mm : {24.30, 24.00, 23.70, 23.50}) {
        bench.add(reading("flange", mm, 0.15));
    }
    const auto features = bench.judged();
    REQUIRE(features.size() == 1);
    REQUIRE(features[0].readings.size() == 4);
    CHECK(features[0].readings[0].expanded_mm == 0.30);
    CHECK(features[0].readings[0].judgements.at(0).verdict == "within");
    CHECK(features[0].readings[1].judgements.at(0).verdict == "not decided");
    CHECK(features[0].readings[1].judgements.at(0).chance_within == Approx(0.8944).margin(5e-5));
    CHECK(features[0].readings[2].judgements.at(0).verdict == "not decided");
    CHECK(features[0].readings[2].judgements.at(0).chance_within == Approx(0.2266).margin(5e-5));
    CHECK(features[0].readings[3].judgements.at(0).verdict == "beyond");
}

TEST_CASE("A reading whose uncertainty nobody told is not judged", "[book]") {
    Bench bench;
    bench.add(limit("bore", std::nullopt, 45.10));
    bench.add(reading("bore", 44, std::nullopt));
    CHECK(bench.judged().at(0).readings.at(0).judgements.at(0).verdict == "not judged");
    CHECK_FALSE(book::last_u_of_instrument(bench.b, "bore gauge"));
    bench.add(reading("bore", 44, 0.01));
    CHECK(book::last_u_of_instrument(bench.b, "Bore Gauge ") == 0.01);
}

TEST_CASE("Several readings of a feature give their largest less their smallest, with its uncertainty",
          "[book]") {
    Bench bench;
    auto taper = limit("bore", std::nullopt, 0.10);
    taper.of_spread = true;
    bench.add(taper);
    bench.add(reading("bore", 45.02, 0.03, "front"));
    bench.add(reading("bore", 45.01, 0.01, "middle"));
    bench.add(reading("bore", 45.00, 0.04, "back"));
    const auto spread = bench.judged().at(0).spread;
    REQUIRE(spread);
    CHECK(spread->mm == Approx(0.02).epsilon(1e-9));
    CHECK(*spread->expanded_mm == Approx(0.10));  // 2 * sqrt(0.03^2 + 0.04^2)
    CHECK_THAT(spread->largest, Catch::EndsWith("front"));
    CHECK_THAT(spread->smallest, Catch::EndsWith("back"));
    CHECK(spread->judgements.at(0).verdict == "not decided");       // 0.02 lies within 0.10 of 0.10
    CHECK(bench.judged().at(0).readings.at(0).judgements.empty());  // the limit is not one of the bore itself
}

TEST_CASE("A dimension from a photo says beyond or not decided, by the feature's name", "[book]") {
    Bench bench;
    bench.add(limit("hole diameter 2", std::nullopt, 20));
    book::Measurement m(tag(417));
    m.photo = {1};
    book::DimensionRecord hole;
    hole.name = "hole diameter";
    hole.unit = "mm";
    hole.holes = {2};
    hole.expanded = 0.3;
    for (const double mm : {19.0, 20.2, 21.0}) {
        hole.value = mm;
        m.dimensions.push_back(hole);
    }
    hole.holes = {1};
    m.dimensions.push_back(hole);
    const auto features = book::judged_features(book::inspection_of(bench.b, tag(417)), {m});
    REQUIRE(features.at(0).from_photos.size() == 3);
    CHECK(features[0].from_photos[0].judgements.at(0).verdict == "not decided");
    CHECK(features[0].from_photos[1].judgements.at(0).verdict == "not decided");
    CHECK(features[0].from_photos[2].judgements.at(0).verdict == "beyond: measure it");
}

TEST_CASE("A limit needs a feature, a bound and a source", "[book]") {
    Bench bench;
    auto no_source = limit("bore", 1, 2);
    no_source.source = " ";
    CHECK_THAT(message_of<WrongUse>([&] { bench.add(no_source); }), Catch::Contains("source of the limit"));
    CHECK_THAT(message_of<WrongUse>([&] { bench.add(limit("bore", std::nullopt, std::nullopt)); }),
               Catch::Contains("at least one bound"));
    CHECK_THAT(message_of<WrongUse>([&] { bench.add(limit("bore", 2, 1)); }),
               Catch::Contains("no reading can be"));
    CHECK_THAT(message_of<WrongUse>([&] { bench.add(limit("", 1, 2)); }), Catch::Contains("feature"));
}
