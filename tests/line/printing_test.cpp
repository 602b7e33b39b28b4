// Tags and scale markers as the workshop prints them, by the built program.
#include <catch2/catch.hpp>
#include <fstream>

#include "made_card.h"
#include "program.h"
#include "scratch_folder.h"

using namespace stripbook::test;
using Catch::Contains;
using nlohmann::json;
namespace fs = std::filesystem;

namespace {

std::string new_book(const ScratchFolder& scratch) {
    const std::string book = (scratch / "book").string();
    REQUIRE(run_stripbook({"start", book, "--code", "PET", "--title", "Petrel"}).status == 0);
    return book;
}

void import(const ScratchFolder& scratch, const std::string& book, const std::string& csv) {
    const auto file = scratch / "parts.csv";
    std::ofstream(file) << csv;
    REQUIRE(run_stripbook({"parts", "import", file.string(), "--book", book}).status == 0);
}

}  // namespace

TEST_CASE("Blank tags are numbered on, filled ones once, and a lost one again on purpose", "[line]") {
    const ScratchFolder scratch;
    const std::string book = new_book(scratch);
    import(scratch, book, "tag,name\n417,Axlebox cover\n424,Brake block\n");
    const json blank = stripbook_json({"tags", "--count", "3", "--book", book});
    CHECK(blank.at("tags").at(0).get<std::string>().substr(0, 9) == "PET-00425");
    CHECK(blank.at("tags").size() == 3);
    CHECK(blank.at("run") == 1);
    REQUIRE(fs::exists(blank.at("file").get<std::string>()));
    CHECK_THAT(run({"pdftotext", blank.at("file"), "-"}).out, Contains("00425") && Contains("00427"));

    const json filled = stripbook_json({"tags", "--unprinted", "--small", "--book", book});
    CHECK(filled.at("tags") == json({"PET-00417-D", "PET-00424-F"}));
    CHECK_THAT(run({"pdftotext", filled.at("file"), "-"}).out, Contains("Axlebox"));
    CHECK(stripbook_json({"tags", "--unprinted", "--book", book}).at("tags").empty());

    const Ran again = run_stripbook({"tags", "--for", "417", "--book", book});
    CHECK(again.status == 2);
    CHECK_THAT(again.err, Contains("PET-00417-D was printed already") && Contains("--again"));
    CHECK(stripbook_json({"tags", "--for", "417", "426", "--again", "blasted off", "--roll", "--book", book})
              .at("tags")
              .size() == 2);
    const json runs = stripbook_json({"tags", "--runs", "--book", book}).at("runs");
    REQUIRE(runs.size() == 3);
    CHECK(runs[0].at("size") == "large");
    CHECK(runs[1].at("size") == "small");
    CHECK(runs[2].at("again") == "blasted off");
    // What the book knows of it: `parts show` has the history.
    const json part = stripbook_json({"parts", "show", "417", "--book", book});
    CHECK_THAT(part.dump(), Contains("again: blasted off"));

    const Ran stranger = run_stripbook({"tags", "--for", "9", "--book", book});
    CHECK(stranger.status == 2);
    CHECK_THAT(stranger.err, Contains("never printed"));
    const Ran nothing = run_stripbook({"tags", "--book", book});
    CHECK(nothing.status == 2);
    CHECK_THAT(nothing.err, Contains("--count"));
}

TEST_CASE("A pack that cannot be written reserves nothing", "[line]") {
    const ScratchFolder scratch;
    const std::string book = new_book(scratch);
    const Ran refused =
        run_stripbook({"tags", "--count", "5", "--out", "/no/such/folder/tags.pdf", "--book", book});
    CHECK(refused.status == 3);
    CHECK_THAT(refused.err, Contains("cannot be written"));
    CHECK(stripbook_json({"tags", "--runs", "--book", book}).at("runs").empty());
    CHECK(run_stripbook({"tags", "--count", "5", "--out", "tags.txt", "--book", book}).status == 2);
    CHECK(stripbook_json({"tags", "--count", "1", "--book", book}).at("tags").at(0) == "PET-00001-O");
    CHECK(run_stripbook({"markers", "mat", "--out", "/no/such/folder/mat.pdf", "--book", book}).status == 3);
    CHECK(stripbook_json({"markers", "list", "--book", book}).at("sheets").empty());
}

TEST_CASE("A number that three fiducials give counts when the book has printed it", "[line]") {
    const ScratchFolder scratch;
    const std::string book = new_book(scratch);
    import(scratch, book, "tag,name\n1,Bracket\n");
    REQUIRE(run_stripbook({"tags", "--count", "5", "--book", book}).status == 0);
    MadeCard card(scratch / "card");
    // Its QR code is covered, so that only the fiducials speak. 00004 was printed, 00009 was not.
    card.fiducials_only_shot("DCIM/100AAAAA/AAAA0001.JPG", "PET-00004", "2026:03:20 09:00:00");
    card.fiducials_only_shot("DCIM/100AAAAA/AAAA0002.JPG", "PET-00009", "2026:03:20 10:00:00");
    const Ran dumped = run_stripbook({"dump", (scratch / "card").string(), "--book", book});
    CHECK(dumped.status == 1);
    const json parts = stripbook_json({"parts", "list", "--book", book}).at("parts");
    REQUIRE(parts.size() == 2);
    CHECK_THAT(parts[1].at("tag").get<std::string>(), Contains("PET-00004-"));
}

TEST_CASE("What is measured on a printed marker becomes its correction, when it is plausible", "[line]") {
    const ScratchFolder scratch;
    const std::string book = new_book(scratch);
    const json printed = stripbook_json({"markers", "bench", "--book", book});
    CHECK(printed.at("written").at(0).at("sheets") == json({"MARKER-BENCH-0001"}));
    // The workshop's own words, from the printed page.
    const json kept = stripbook_json(
        {"markers", "measured", "bench", "--across", "99.7", "--along", "100.2", "--book", book});
    CHECK(kept.at("sheet") == "MARKER-BENCH-0001");
    CHECK(kept.at("correction").at("across").get<double>() == Approx(0.997));
    CHECK(kept.at("correction").at("along").get<double>() == Approx(1.002));

    const Ran doubtful =
        run_stripbook({"markers", "measured", "bench", "--across", "98.5", "--along", "100", "--book", book});
    CHECK(doubtful.status == 2);
    CHECK_THAT(doubtful.err, Contains("-1.5 %") && Contains("--sure"));
    CHECK(run_stripbook({"markers", "measured", "bench", "--across", "98.5", "--along", "100", "--sure",
                         "--book", book})
              .status == 0);
    CHECK(run_stripbook({"markers", "measured", "bench", "--across", "3.94 in", "--along", "3 15/16 in",
                         "--book", book})
              .status == 0);
    const Ran wrong =
        run_stripbook({"markers", "measured", "bench", "--across", "3.94", "--along", "100", "--book", book});
    CHECK(wrong.status == 2);
    CHECK_THAT(wrong.err, Contains("cannot have printed as 3.9 mm"));

    // Two sheets of a kind: which one must be said.
    REQUIRE(run_stripbook({"markers", "bench", "--book", book}).status == 0);
    const Ran which =
        run_stripbook({"markers", "measured", "bench", "--across", "100", "--along", "100", "--book", book});
    CHECK(which.status == 2);
    CHECK_THAT(which.err, Contains("--sheet"));
    REQUIRE(run_stripbook({"markers", "retire", "bench", "--sheet", "2", "--book", book}).status == 0);
    CHECK(run_stripbook({"markers", "measured", "bench", "--exact", "--book", book}).status == 0);

    // A mat glued from sheets needs its sides and diagonals.
    REQUIRE(run_stripbook({"markers", "mat", "--split", "--book", book}).status == 0);
    const Ran glued =
        run_stripbook({"markers", "measured", "mat", "--across", "120", "--along", "120", "--book", book});
    CHECK(glued.status == 2);
    CHECK_THAT(glued.err, Contains("--sides"));
    CHECK(run_stripbook({"markers", "measured", "mat", "--across", "120", "--along", "120", "--sides", "833",
                         "586", "833", "586", "--diagonals", "1018.5", "1018.5", "--book", book})
              .status == 0);
    const Ran elsewhere =
        run_stripbook({"markers", "measured", "pocket", "--sheet", "9", "--exact", "--book", book});
    CHECK(elsewhere.status == 2);
    CHECK(run_stripbook({"markers", "measured", "pocket", "--sheet", "9", "--exact", "--from-elsewhere",
                         "--book", book})
              .status == 0);
}
