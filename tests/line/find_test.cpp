// Finding at refitting, by the built program.
#include <algorithm>
#include <catch2/catch.hpp>
#include <fstream>

#include "made_card.h"
#include "program.h"
#include "scratch_folder.h"

using namespace stripbook::test;
using Catch::Contains;
using nlohmann::json;

namespace {

struct FoundBook {
    FoundBook() {
        run_stripbook({"start", book, "--code", "PET", "--title", "Petrel"});
        std::ofstream(scratch / "parts.csv")
            << "tag,name,assembly,place,path\n"
               "PET-00417,Axlebox cover,Running gear / Axle 1,Axle 1 left,use again\n"
               "PET-00424,Brake pull lever,Brake,Frame bay 3,repair\n"
               "PET-00431,Axlebox wedge,Running gear / Axle 2,Axle 2 left,repair\n";
        REQUIRE(run_stripbook({"parts", "import", (scratch / "parts.csv").string(), "--book", book}).status ==
                0);
        const MadeCard card(scratch / "card");
        card.tag_shot("DCIM/100AAAAA/AAAA0001.JPG", "PET-00417", "2026:03:20 09:00:00");
        card.floor("DCIM/100AAAAA/AAAA0002.JPG", "2026:03:20 09:00:30");
        REQUIRE(run_stripbook({"dump", card.text(), "--book", book}).status == 0);
        const MadeCard phone(scratch / "phone");
        phone.tag_shot("DCIM/100AAAAA/SHELF001.JPG", "PET-00424", "2026:07:01 09:00:00");
        phone.tag_shot("DCIM/100AAAAA/SHELF002.JPG", "OAK-29565", "2026:07:01 09:00:00");
        phone.floor("DCIM/100AAAAA/SHELF003.JPG", "2026:07:01 09:00:00");
    }
    [[nodiscard]] Ran find(std::vector<std::string> arguments) const {
        arguments.insert(arguments.begin(), "find");
        arguments.insert(arguments.end(), {"--book", book});
        return run_stripbook(arguments);
    }
    [[nodiscard]] std::string shelf(int number) const {
        return (scratch / ("phone/DCIM/100AAAAA/SHELF00" + std::to_string(number) + ".JPG")).string();
    }
    ScratchFolder scratch;
    std::string book = (scratch / "book").string();
};

}  // namespace

TEST_CASE("Words, place, assembly, path and stage find what hangs on the shelf", "[line]") {
    const FoundBook b;
    CHECK_THAT(b.find({"axle"}).out,
               Contains("PET-00417-D") && Contains("PET-00431-H") && !Contains("PET-00424"));
    CHECK_THAT(b.find({"--path", "repair"}).out, Contains("PET-00424-F") && Contains("PET-00431-H"));
    CHECK_THAT(b.find({"--assembly", "axle 2"}).out, Contains("PET-00431-H") && !Contains("PET-00417-D"));
    CHECK_THAT(b.find({"lever", "--place", "bay"}).out, Contains("PET-00424-F"));
    const Ran photos = b.find({"417", "--stage", "as-removed"});
    CHECK_THAT(photos.out, Contains("AAAA0001.JPG") && Contains("AAAA0002.JPG"));
    CHECK_THAT(b.find({"417", "--stage", "painted"}).out, !Contains("AAAA0001.JPG"));
    const Ran none = b.find({"boiler"});
    CHECK(none.status == 1);
    CHECK_THAT(none.out, Contains("no part has all of that"));
}

TEST_CASE("A fresh picture of the tag says which part this is, and nothing of it is kept", "[line]") {
    const FoundBook b;
    const Ran found = b.find({"--picture", b.shelf(1)});
    CHECK(found.status == 0);
    CHECK_THAT(found.out, Contains("PET-00424-F  Brake pull lever"));
    const Ran other = b.find({"--picture", b.shelf(2)});
    CHECK(other.status == 1);
    CHECK_THAT(other.err, Contains("a tag of another book"));
    const Ran nothing = b.find({"--picture", b.shelf(3)});
    CHECK(nothing.status == 1);
    CHECK_THAT(nothing.err, Contains("take it closer"));
    CHECK_THAT(b.find({"424"}).out, Contains("no photo is linked to it yet"));
    // What is no picture, or not there, is said.
    std::ofstream(b.scratch / "no.jpg") << "no picture";
    CHECK(b.find({"--picture", (b.scratch / "no.jpg").string()}).status == 2);
    CHECK(b.find({"--picture", (b.scratch / "none.jpg").string()}).status == 2);
}

TEST_CASE("A find that asks for nothing, or for a word that is none, is refused in plain words", "[line]") {
    const FoundBook b;
    CHECK(b.find({}).status == 2);
    CHECK_THAT(b.find({"axle", "--path", "lost"}).err,
               Contains("\"lost\" is no path; the paths are: undecided"));
    CHECK_THAT(b.find({"axle", "--stage", "washed"}).err, Contains("\"washed\" is no stage"));
    CHECK(b.find({"axle", "--picture", b.shelf(1)}).status == 2);
}

TEST_CASE("What was found goes onto a contact sheet, each photo once with its number", "[line]") {
    const FoundBook b;
    const Ran found = b.find({"axle", "--sheet"});
    INFO(found.err);
    REQUIRE(found.status == 0);
    const std::string pdf = b.book + "/reports/contact-sheet.pdf";
    CHECK_THAT(found.out, Contains("contact-sheet.pdf: 2 photos in 1 page"));
    CHECK_THAT(run({"pdftotext", "-layout", pdf, "-"}).out,
               Contains("PET-00417-D") && Contains("Axlebox cover") && Contains("Axle 1 left") &&
                   Contains("p1 ") && Contains("p2 ") && Contains("2026-03-20 09:00") &&
                   !Contains("Axlebox wedge"));
    const Ran pictures = run({"pdfimages", "-list", pdf});
    CHECK(std::count(pictures.out.begin(), pictures.out.end(), '\n') == 2 + 2);  // two lines of headings
    CHECK(run({"qpdf", "--check", pdf}).status == 0);
    // The stage narrows it down; where nothing is left, nothing is printed.
    const Ran none = b.find({"axle", "--stage", "painted", "--sheet"});
    CHECK(none.status == 2);
    CHECK_THAT(none.err, Contains("no photo for the contact sheet"));
    const json answer = stripbook_json({"find", "417", "--sheet", "--out", (b.scratch / "c.pdf").string(),
                                        "--paper", "letter", "--book", b.book});
    CHECK(answer.at("sheet").at("photos") == 2);
    CHECK_THAT(run({"pdfinfo", (b.scratch / "c.pdf").string()}).out, Contains("612 x 792"));
}

TEST_CASE("Many photos break over rows and pages, with the part's name again on each", "[line]") {
    const FoundBook b;
    const MadeCard many(b.scratch / "many");
    many.tag_shot("DCIM/101AAAAA/AAAA0001.JPG", "PET-00431", "2026:03:21 09:00:00");
    for (int i = 2; i <= 30; ++i) {
        const std::string two = (i < 10 ? "0" : "") + std::to_string(i);
        many.floor("DCIM/101AAAAA/AAAA00" + two + ".JPG", "2026:03:21 09:00:" + two);
    }
    REQUIRE(run_stripbook({"dump", many.text(), "--book", b.book}).status == 0);
    REQUIRE(b.find({"431", "--sheet"}).status == 0);
    const std::string pdf = b.book + "/reports/contact-sheet.pdf";
    const Ran info = run({"pdfinfo", pdf});
    CHECK_THAT(info.out, Contains("Pages:           2"));
    CHECK_THAT(run({"pdftotext", "-f", "2", "-layout", pdf, "-"}).out,
               Contains("Axlebox wedge") && Contains("continued") && Contains("p32"));
}
