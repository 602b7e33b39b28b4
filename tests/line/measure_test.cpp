// Dimensions through the whole line: cards in, numbers, overlay and report out, beside the truth of the
// sample photographs.
#include <catch2/catch.hpp>
#include <cmath>
#include <fstream>

#include "program.h"
#include "scratch_folder.h"

using namespace stripbook::test;
using Catch::Contains;
using nlohmann::json;
namespace fs = std::filesystem;

namespace {

const fs::path& samples() {
    static const fs::path folder = source_folder() / "sample_images";
    return folder;
}

json truth_of(const std::string& tag) {
    std::ifstream in(samples() / "truth.json");
    const json truth = json::parse(in);
    const json& shots = truth.at("shots");
    for (const auto& shot : shots) {
        if (shot.contains("cards") && !shot.at("cards").empty() &&
            shot.at("belongs_to").at(0).get<std::string>() == tag.substr(0, 9)) {
            return shot.at("parts").at(0);
        }
    }
    FAIL("no bench shot of " << tag);
    return {};
}

// Length and width of the widest outline, mm, from what the renderer was told.
std::pair<double, double> true_sizes(const json& part) {
    if (part.at("kind") == "flange") {
        return {part.at("od"), part.at("od")};
    }
    REQUIRE(part.at("kind") == "plate");
    return {part.at("w"), part.at("h")};
}

// A book with the sample cards and sheets that are known to be exact, as the renderer's are.
std::string book_with_samples(const ScratchFolder& scratch, bool measured_sheets) {
    const std::string book = (scratch / "petrel").string();
    REQUIRE(run_stripbook({"start", book, "--code", "PET", "--title", "Petrel"}).status == 0);
    REQUIRE(run_stripbook({"parts", "import", (samples() / "parts.csv").string(), "--book", book}).status ==
            0);
    if (measured_sheets) {
        for (const char* kind : {"bench", "pocket"}) {
            REQUIRE(run_stripbook({"markers", "measured", kind, "--sheet", "1", "--exact", "--from-elsewhere",
                                   "--book", book})
                        .status == 0);
        }
    }
    return book;
}

json dump_samples(const std::string& book) {
    return stripbook_json(
        {"dump", (samples() / "card-fv20").string(), (samples() / "card-pocket").string(), "--book", book});
}

}  // namespace

TEST_CASE("Bench shots are measured at day's end, and no dimension is wrong", "[line]") {
    const ScratchFolder scratch;
    const std::string book = book_with_samples(scratch, true);
    const json answer = dump_samples(book);
    REQUIRE(answer.at("measured").size() == 5);
    int measured = 0;
    for (const auto& m : answer.at("measured")) {
        if (m.at("refusal") != "") {
            WARN(m.at("photo") << " is not measured: " << m.at("refusal"));
            continue;
        }
        ++measured;
        const json shown =
            stripbook_json({"measure", m.at("photo"), "--book", book}).at("measurements").at(0);
        const json part = truth_of(m.at("tag"));
        if (part.at("kind") == "shoe") {
            continue;  // its smallest rectangle is not written in truth.json
        }
        const auto [length, width] = true_sizes(part);
        for (const auto& d : shown.at("dimensions")) {
            const double truth = d.at("name") == "length" ? length : d.at("name") == "width" ? width : 0;
            if (truth > 0) {
                INFO(m.at("photo") << " " << d.at("name") << " " << d.at("value") << " U " << d.at("U")
                                   << ", truth " << truth);
                const double error = std::abs(d.at("value").get<double>() - truth);
                // Wrong is what a person would be misled by: beyond 3 U, or 1 %.
                CHECK(error < 3 * d.at("U").get<double>());
                CHECK(error < 0.01 * truth);
            }
        }
        CHECK(fs::file_size(shown.at("overlay").get<std::string>()) > 10000);
    }
    CHECK(measured >= 3);

    // The same again measures nothing anew, and the lens rests on every bench shot of that camera.
    CHECK(stripbook_json({"measure", "--all", "--book", book}).at("measurements").empty());
    const json lenses = stripbook_json({"lens", "--book", book}).at("lenses");
    REQUIRE(lenses.size() == 1);
    CHECK(lenses[0].at("photos") == 5);
    // truth.json: K of that camera is 5660.4 px, k1 -0.028.
    CHECK(lenses[0].at("focal_px").get<double>() == Approx(5660.4).epsilon(0.01));
}

TEST_CASE("A part is measured by its tag in all its photos with a marker", "[line]") {
    const ScratchFolder scratch;
    const std::string book = book_with_samples(scratch, true);
    dump_samples(book);
    for (const std::string typed : {"417-D", "PET-00417-D"}) {
        const json list = stripbook_json({"measure", typed, "--book", book}).at("measurements");
        REQUIRE(list.size() == 1);
        CHECK(list[0].at("tag") == "PET-00417-D");
        CHECK(list[0] ==
              stripbook_json({"measure", list[0].at("photo"), "--book", book}).at("measurements")[0]);
    }
    const Ran wrong = run_stripbook({"measure", "417-E", "--book", book});
    CHECK(wrong.status == 2);
    CHECK_THAT(wrong.err, Contains("the check character E does not fit PET-00417"));
    const Ran points = run_stripbook({"measure", "417-D", "--between", "1,2", "3,4", "--book", book});
    CHECK_THAT(points.err, Contains("name it, for example p12"));
    const Ran none = run_stripbook({"measure", "PET-00424-F", "--book", book});
    CHECK_THAT(none.err, Contains("no photo of PET-00424-F can be measured"));
}

TEST_CASE("A command that is none is named, with where the commands are listed", "[line]") {
    const Ran wrong = run_stripbook({"shwo", "417"});
    CHECK(wrong.status == 2);
    CHECK_THAT(wrong.err, Contains("there is no command \"shwo\"") && Contains("--help lists"));
    CHECK_THAT(run_stripbook({}).err, Contains("say what to do"));
    const Ran within = run_stripbook({"refit", "43l"});
    CHECK(within.status == 2);
    CHECK_THAT(within.err, Contains("there is no command \"refit 43l\"") && Contains("refit --help lists"));
    CHECK_THAT(run_stripbook({"parts"}).err, Contains("say what to do") && Contains("parts --help lists"));
    CHECK_THAT(run_stripbook({"measure", "--frob"}).err, Contains("--frob"));
}

TEST_CASE("The report shows dimensions with their uncertainty and that they are no gauge", "[line]") {
    const ScratchFolder scratch;
    const std::string book = book_with_samples(scratch, true);
    dump_samples(book);
    REQUIRE(run_stripbook({"report", "417", "--book", book}).status == 0);
    const Ran words = run({"pdftotext", "-layout", book + "/reports/PET-00417-D.pdf", "-"});
    CHECK_THAT(words.out, Contains("Dimensions from photos") && Contains("no gauge") &&
                              Contains("U (k = 2)") && Contains("bolt circle") && Contains("193."));
    const Ran shown = run_stripbook({"parts", "show", "417", "--book", book});
    CHECK_THAT(shown.out, Contains("dimensions from p9") && Contains("no gauge"));
}

TEST_CASE("A sheet that nobody measured gives no number unless asked, and then a wide one", "[line]") {
    const ScratchFolder scratch;
    const std::string book = book_with_samples(scratch, false);
    const json answer = dump_samples(book);
    REQUIRE(answer.at("measured").size() == 5);
    for (const auto& m : answer.at("measured")) {
        CHECK_THAT(m.at("refusal").get<std::string>(), Contains("stripbook markers measured"));
        CHECK(m.at("dimensions") == 0);
    }
    const json wide = stripbook_json({"measure", "p9", "--unmeasured-sheet", "--book", book});
    const json dimensions = wide.at("measurements").at(0).at("dimensions");
    REQUIRE_FALSE(dimensions.empty());
    // u 2 % of 193.2 mm, k = 2.
    CHECK(dimensions.at(0).at("U").get<double>() == Approx(2 * 0.02 * 193.2).epsilon(0.05));
    // Once the sheet is measured the day's end measures what it refused before.
    REQUIRE(run_stripbook({"markers", "measured", "bench", "--sheet", "1", "--exact", "--from-elsewhere",
                           "--book", book})
                .status == 0);
    CHECK(stripbook_json({"measure", "--all", "--book", book}).at("measurements").size() >= 4);
}

TEST_CASE("A person measures between two points of the upright picture", "[line]") {
    const ScratchFolder scratch;
    const std::string book = book_with_samples(scratch, true);
    dump_samples(book);
    // The bench marker's own fiducials 4 and 6 in p9: their centres are 253 mm apart (docs/tag-code.md).
    // Pixels of their centres as the photo shows them; no part stands above the sheet there.
    const Ran help = run_stripbook({"measure", "p9", "--between", "1,2", "--book", book});
    CHECK(help.status == 2);
    const Ran wrong = run_stripbook({"measure", "p9", "--between", "a,b", "1,2", "--book", book});
    CHECK(wrong.status == 2);
    CHECK_THAT(wrong.err, Contains("X,Y"));
    const Ran outside = run_stripbook({"measure", "p9", "--between", "99999,1", "2,3", "--book", book});
    CHECK(outside.status == 1);
    CHECK_THAT(outside.out, Contains("outside the picture"));
    REQUIRE(run_stripbook({"report", "417", "--book", book}).status == 0);
    // A point picked wrong leaves nothing behind.
    CHECK_THAT(run({"pdftotext", book + "/reports/PET-00417-D.pdf", "-"}).out,
               !Contains("outside the picture"));
    const Ran none = run_stripbook({"measure", "p1", "--between", "1,2", "3,4", "--book", book});
    CHECK(none.status == 2);
    CHECK_THAT(none.err, Contains("no scale marker"));
    const json answer = stripbook_json(
        {"measure", "p9", "--height", "0", "--no-snap", "--between", "256,791", "1666,726", "--book", book});
    const json m = answer.at("measurements").at(0);
    CHECK(m.at("by_hand") == true);
    REQUIRE(m.at("dimensions").size() == 1);
    const json d = m.at("dimensions").at(0);
    CHECK(d.at("name") == "distance");
    // Read off the picture to a few pixels of about 5 px/mm.
    CHECK(d.at("value").get<double>() == Approx(253).margin(3));
    CHECK(d.at("U").get<double>() > 0);
}
