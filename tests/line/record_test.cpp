// The record of a part, as people keep it with the built program.
#include <catch2/catch.hpp>
#include <fstream>

#include "made_card.h"
#include "program.h"
#include "scratch_folder.h"

using namespace stripbook::test;
using Catch::Contains;
using nlohmann::json;

namespace {

struct RecordBook {
    RecordBook() {
        run_stripbook({"start", book, "--code", "PET", "--title", "Petrel"});
        import(
            "tag,name,assembly,quantity\n"
            "417,Axlebox cover,Running gear / Axle 1,\n"
            "424,Brake pull lever,Brake,\n"
            "431,Axlebox,Running gear / Axle 1,\n");
    }
    void import(const std::string& csv) const {
        std::ofstream(scratch / "parts.csv") << csv;
        REQUIRE(run_stripbook({"parts", "import", (scratch / "parts.csv").string(), "--book", book}).status ==
                0);
    }
    [[nodiscard]] Ran ran(std::vector<std::string> words) const {
        words.insert(words.end(), {"--book", book});
        return run_stripbook(words);
    }
    [[nodiscard]] json answer(std::vector<std::string> words) const {
        words.insert(words.end(), {"--book", book});
        return stripbook_json(words);
    }
    ScratchFolder scratch;
    std::string book = (scratch / "book").string();
};

}  // namespace

TEST_CASE("A hazard is told wherever the part is shown", "[line]") {
    const RecordBook b;
    const Ran set = b.ran({"hazard", "417", "heavy", "--mass", "400 lb", "--note", "lift at both lugs"});
    CHECK(set.status == 0);
    CHECK_THAT(set.out, Contains("! Heavy, 181.436948 kg: lift at both lugs.") && Contains("Local codes"));
    CHECK(b.ran({"hazard", "417", "lead", "paint"}).status == 0);
    for (const auto& words : std::vector<std::vector<std::string>>{
             {"parts", "show", "417"}, {"find", "417"}, {"inspect", "417"}, {"hazard", "417"}}) {
        INFO(words.front());
        CHECK_THAT(b.ran(words).out, Contains("Heavy, 181.4") && Contains("Lead paint"));
    }
    CHECK(b.answer({"parts", "show", "417"}).at("hazards").size() == 2);
    CHECK(b.ran({"hazard", "417", "heavy", "--take-back"}).status == 0);
    CHECK_THAT(b.ran({"hazard", "417"}).out, !Contains("Heavy"));
    CHECK_THAT(b.ran({"hazard", "424"}).out, Contains("no hazard is recorded"));
    CHECK(b.ran({"hazard", "417", "hot"}).status == 2);
    CHECK(b.ran({"hazard", "417", "heavy", "--mass", "much"}).status == 2);
}

// With u = 0.01 mm, so U = 0.02 mm, a bore of 45.07 is proved within 45.10, 45.09 is not decided, 45.13
// is proved beyond (ISO 14253-1).
TEST_CASE("Readings are judged against their limit, and a correction keeps what it corrects", "[line]") {
    const RecordBook b;
    REQUIRE(
        b.ran({"inspect", "417", "--limit", "bore", "--at-most", "45.10", "--source", "drawing 12"}).status ==
        0);
    REQUIRE(b.ran({"inspect", "417", "--reading", "bore", "45.07", "45.09", "45.13", "--instrument",
                   "bore gauge", "--u", "0.01"})
                .status == 0);
    json feature = b.answer({"inspect", "417"}).at("features").at(0);
    const auto verdict = [&feature](int i) {
        return feature.at("readings").at(static_cast<std::size_t>(i)).at("judged").at(0).at("verdict");
    };
    CHECK(verdict(0) == "within");
    CHECK(verdict(1) == "not decided");
    CHECK(verdict(2) == "beyond");
    CHECK(feature.at("spread").at("value_mm").get<double>() == Approx(0.06));
    // The instrument's u is known from now on; three and a half inches, as people type it.
    REQUIRE(b.ran({"inspect", "424", "--reading", "pin", "3 1/2 in", "--instrument", "Bore gauge"}).status ==
            0);
    CHECK(b.answer({"inspect", "424"}).at("readings").at(0).at("value_mm") == 88.9);
    CHECK(b.answer({"inspect", "424"}).at("readings").at(0).at("u_mm") == 0.01);
    // Entry 4 was a slip.
    REQUIRE(
        b.ran({"inspect", "417", "--reading", "bore", "45.03", "--u", "0.01", "--corrects", "4"}).status ==
        0);
    const Ran shown = b.ran({"inspect", "417"});
    CHECK_THAT(shown.out, Contains("struck [4]") && Contains("45.13") && Contains("ISO 14253-1"));
    const std::string part = b.ran({"parts", "show", "417"}).out;
    CHECK_THAT(part.substr(0, part.find("history")), Contains("45.03 mm") && !Contains("45.13"));
    CHECK_THAT(part.substr(part.find("history")), Contains("which corrects 4 from \"bore: 45.13 mm"));
    CHECK(b.answer({"inspect", "417"}).at("readings").size() == 4);
    CHECK(b.ran({"inspect", "417", "--take-back", "6"}).status == 2);  // without a reason
    CHECK(b.ran({"inspect", "417", "--reading", "bore"}).status == 2);
    CHECK(b.ran({"inspect", "417", "--where", "lug"}).status == 2);
    CHECK(b.ran({"inspect", "417", "--reading", "bore", "45,020"}).status == 2);
}

TEST_CASE("A bench session comes in whole or not at all", "[line]") {
    const RecordBook b;
    const std::string file = (b.scratch / "bench.csv").string();
    std::ofstream(file) << "tag;feature;reading;u;finding;where\n"
                           "417;bore;45,020;0,01;;\n"
                           "424;;;;wear;pin hole\n";
    CHECK_THAT(b.ran({"inspect", "--from", file}).out, Contains("2 entries from 2 rows"));
    CHECK_THAT(b.ran({"find", "424"}).out, Contains("wear, pin hole"));
    std::ofstream(file) << "tag;finding;where\n424;crack;lug\n999;crack;lug\n";
    const Ran bad = b.ran({"inspect", "--from", file});
    CHECK(bad.status == 2);
    CHECK_THAT(bad.err, Contains("bench.csv line 3"));
    CHECK(b.answer({"inspect", "424"}).at("findings").size() == 1);
}

TEST_CASE("A path has its reason, its work and its price, and the boss's list adds them up", "[line]") {
    const RecordBook b;
    REQUIRE(b.ran({"set", "currency", "GBP"}).status == 0);
    CHECK(b.ran({"path", "417", "repair"}).status == 2);  // no reason
    const Ran repair =
        b.ran({"path", "417", "repair", "--why", "bore worn", "--work", "bush and ream", "--hours", "3"});
    CHECK(repair.status == 0);
    CHECK_THAT(repair.out, Contains("before it goes back: work to do: bush and ream, 3 h"));
    CHECK(b.ran({"path", "431", "buy", "--why", "cracked", "--from", "Ferrow", "--price", "12.50",
                 "--ordered", "2026-11-20"})
              .status == 0);
    const Ran paths = b.ran({"paths", "--days", "0"});
    CHECK(paths.status == 1);  // 424 has no decision
    CHECK_THAT(paths.out, Contains("ordered 2026-11-20, not received") && Contains("12.50 GBP") &&
                              Contains("Brake pull lever") && Contains("3.0 h open"));
    CHECK(b.ran({"work", "done", "417", "--hours", "4", "--by", "Ben"}).status == 0);
    CHECK(b.ran({"path", "431", "--received", "today"}).status == 0);
    const json overview = b.answer({"paths"});
    CHECK(overview.at("by_path").at("undecided") == 1);
    CHECK(overview.at("assemblies").at(0).at("hours_taken") == 4);
    CHECK(overview.at("assemblies").at(0).at("price") == "12.50");
    CHECK_THAT(b.ran({"refit", "next"}).out, Contains("Axlebox cover"));
    CHECK(b.ran({"paths", "--days", "soon"}).status == 2);
    CHECK_THAT(b.ran({"find", "417"}).out, Contains("why: bore worn") && Contains("by Ben in 4 h"));
    CHECK(b.answer({"find", "417"}).at("parts").at(0).at("path_record").at("why") == "bore worn");
}

// Arithmetic: eight springs, two to an axle, so four axles.
TEST_CASE("What is missing is said in words, by assembly", "[line]") {
    const RecordBook b;
    std::string csv = "tag,name,assembly,storage\n";
    for (int i = 0; i < 7; ++i) {
        csv += std::to_string(i + 1) + ",Axlebox spring,Running gear / Axle " + std::to_string(i / 2 + 1) +
               ",Rack C\n";
    }
    b.import(csv);
    REQUIRE(b.ran({"parts", "expect", "axlebox spring", "8", "--assembly", "Running gear"}).status == 0);
    const Ran missing = b.ran({"parts", "missing"});
    CHECK(missing.status == 1);
    CHECK_THAT(missing.out, Contains("8 axlebox springs expected, two to an axle: 7 present") &&
                                Contains("Running gear / Axle 4: 1 of 2"));
    b.import("tag,name,assembly,storage\n8,Axlebox spring,Running gear / Axle 4,Rack C\n");
    CHECK(b.ran({"parts", "missing"}).status == 0);
    CHECK(b.answer({"parts", "missing", "--all"}).at("lines").at(0).at("present") == 8);
    CHECK(b.ran({"parts", "expect", "spring", "many"}).status == 2);
}

TEST_CASE("Parts move, are stored and hold their fasteners, and a circle is refused by name", "[line]") {
    const RecordBook b;
    CHECK(b.ran({"parts", "move", "417", "--under", "431"}).status == 0);
    CHECK(b.ran({"parts", "move", "431", "--to", "Running gear / Axle 3"}).status == 0);
    CHECK(b.answer({"parts", "show", "417"}).at("assembly") == "Running gear / Axle 3");
    CHECK(b.answer({"parts", "show", "417"}).at("parent") == "PET-00431-H");
    const Ran circle = b.ran({"parts", "move", "431", "--under", "417"});
    CHECK(circle.status == 2);
    CHECK_THAT(circle.err, Contains("circle: PET-00431-H from PET-00417-D from PET-00431-H"));
    CHECK(b.ran({"parts", "move", "417"}).status == 2);
    CHECK(b.answer({"parts", "move", "--assembly", "Running gear", "--to", "Bogie 1"}).at("moved").size() ==
          2);

    CHECK_THAT(b.ran({"store", "417", "424", "Rack C / shelf 2"}).out,
               Contains("2 parts at Rack C / shelf 2"));
    CHECK(b.ran({"store", "417", "424"}).status == 2);
    CHECK(b.ran({"parts", "bag", "417", "M12 x 40 bolt", "6"}).status == 0);
    CHECK_THAT(b.ran({"find", "417"}).out,
               Contains("Rack C / shelf 2") && Contains("6 x M12 x 40 bolt") && Contains("PET-00431-H"));
}

TEST_CASE("The condition report shows hazards, findings, readings with judgement, and the path", "[line]") {
    const RecordBook b;
    REQUIRE(b.ran({"hazard", "417", "heavy", "--mass", "180"}).status == 0);
    REQUIRE(b.ran({"inspect", "417", "--finding", "crack", "--where", "lower lug", "--how-bad", "through"})
                .status == 0);
    REQUIRE(
        b.ran({"inspect", "417", "--limit", "bore", "--at-most", "45.10", "--source", "drawing 12"}).status ==
        0);
    REQUIRE(b.ran({"inspect", "417", "--reading", "bore", "45.02", "--u", "0.01"}).status == 0);
    REQUIRE(b.ran({"path", "417", "repair", "--why", "cracked", "--work", "weld"}).status == 0);
    const std::string pdf = (b.scratch / "report.pdf").string();
    REQUIRE(b.ran({"report", "417", "--out", pdf}).status == 0);
    CHECK(run({"qpdf", "--check", pdf}).status == 0);
    const std::string words = run({"pdftotext", "-layout", pdf, "-"}).out;
    CHECK_THAT(words, Contains("Heavy, 180 kg") && Contains("lower lug") &&
                          Contains("within: at most 45.1") && Contains("0.020 mm") &&
                          Contains("why: cracked") && Contains("weld"));
}
