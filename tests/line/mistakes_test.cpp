// Mistakes that people make with tags, as they are put right with the built program.
#include <catch2/catch.hpp>
#include <fstream>
#include <set>

#include "made_card.h"
#include "program.h"
#include "scratch_folder.h"

using namespace stripbook::test;
using Catch::Contains;
using nlohmann::json;

namespace {

// Two parts with a tag shot and a detail each on 20 March, and again, after blasting, on 2 April.
struct MistakenBook {
    MistakenBook() : card(scratch / "card"), late(scratch / "late") {
        REQUIRE(run_stripbook({"start", book, "--code", "PET", "--title", "Petrel"}).status == 0);
        std::ofstream(scratch / "parts.csv") << "tag,name,assembly,place,storage,quantity\n"
                                                "417,Axlebox cover,Running gear,,Rack B,\n"
                                                "424,Cover,,Bogie 1 / left,Rack C,\n"
                                                "431,Bag of wedges,Running gear,Bogie 2,,\n";
        REQUIRE(ran({"parts", "import", (scratch / "parts.csv").string()}).status == 0);
        card.tag_shot(folder + "AAAA0001.JPG", "PET-00417", "2026:03:20 09:00:00");
        card.floor(folder + "AAAA0002.JPG", "2026:03:20 09:00:10");
        card.tag_shot(folder + "AAAA0003.JPG", "PET-00424", "2026:03:20 10:00:00");
        card.floor(folder + "AAAA0004.JPG", "2026:03:20 10:00:10");
        card.tag_shot(folder + "AAAA0005.JPG", "PET-00417", "2026:04:02 09:00:00");
        card.floor(folder + "AAAA0006.JPG", "2026:04:02 09:00:10");
        card.tag_shot(folder + "AAAA0007.JPG", "PET-00424", "2026:04:02 10:00:00");
        card.floor(folder + "AAAA0008.JPG", "2026:04:02 10:00:10");
        REQUIRE(ran({"dump", card.text()}).status == 0);
        REQUIRE(photos_of("417") == Photos{"p1", "p2", "p5", "p6"});
        REQUIRE(photos_of("424") == Photos{"p3", "p4", "p7", "p8"});
    }
    using Photos = std::set<std::string>;
    [[nodiscard]] Ran ran(std::vector<std::string> words) const {
        words.insert(words.end(), {"--book", book});
        return run_stripbook(words);
    }
    [[nodiscard]] json answer(std::vector<std::string> words) const {
        words.insert(words.end(), {"--book", book});
        return stripbook_json(words);
    }
    // By sqlite3, from the links that hold.
    [[nodiscard]] Photos photos_of(const std::string& serial) const {
        const Ran rows =
            run({"sqlite3", book + "/book.db",
                 "SELECT 'p' || photo FROM person_word WHERE belongs = 1 AND tag LIKE 'PET-00" + serial +
                     "%' UNION SELECT 'p' || photo FROM program_link AS l WHERE tag LIKE "
                     "'PET-00" +
                     serial +
                     "%' AND NOT EXISTS (SELECT 1 FROM person_word AS w WHERE w.photo = l.photo "
                     "AND w.tag = l.tag AND belongs = 0)"});
        REQUIRE(rows.status == 0);
        Photos photos;
        std::istringstream lines(rows.out);
        for (std::string line; std::getline(lines, line);) {
            photos.insert(line);
        }
        return photos;
    }
    // Everything people said, as sqlite3 writes it out.
    [[nodiscard]] std::string said() const {
        std::string all;
        for (const char* table :
             {"part", "person_word", "inspection", "finding", "gauge_reading", "work", "hazard", "part_stage",
              "part_path", "bagged_fastener", "refit_word", "refit_note", "tag_meaning"}) {
            const Ran rows =
                run({"sqlite3", book + "/book.db", std::string("SELECT * FROM ") + table + " ORDER BY 1, 2"});
            REQUIRE(rows.status == 0);
            all += std::string(table) + "\n" + rows.out;
        }
        return all;
    }
    const std::string folder = "DCIM/101AAAAA/";
    ScratchFolder scratch;
    std::string book = (scratch / "book").string();
    MadeCard card;
    MadeCard late;
};

using Photos = MistakenBook::Photos;

}  // namespace

TEST_CASE("A part tagged twice becomes one, with everything said of both", "[line][mistakes]") {
    const MistakenBook b;
    REQUIRE(b.ran({"inspect", "424", "--finding", "crack", "--where", "lower lug"}).status == 0);
    REQUIRE(b.ran({"hazard", "424", "asbestos", "--note", "old gasket"}).status == 0);
    REQUIRE(b.ran({"path", "424", "repair", "--why", "cracked", "--work", "weld"}).status == 0);
    REQUIRE(b.ran({"parts", "bag", "424", "M12 x 40 bolt", "2"}).status == 0);
    REQUIRE(b.ran({"parts", "bag", "417", "M12 x 40 bolt", "4"}).status == 0);
    REQUIRE(b.ran({"refit", "before", "424", "431"}).status == 0);
    REQUIRE(b.ran({"refit", "note", "424", "--match-marks", "two dots"}).status == 0);
    REQUIRE(b.ran({"link", "p2", "424"}).status == 0);
    const std::string before = b.said();
    const Ran merged = b.ran({"parts", "merge", "417", "424"});
    INFO(merged.out << merged.err);
    REQUIRE(merged.status == 0);
    CHECK_THAT(merged.out, Contains("is one part with PET-00424") && Contains("storage: Rack C") &&
                               Contains("name: Cover"));
    CHECK(b.photos_of("417") == Photos{"p1", "p2", "p3", "p4", "p5", "p6", "p7", "p8"});
    CHECK(b.photos_of("424").empty());
    // The other number goes on meaning it; blanks were filled, and nothing of its record is lost.
    const std::string shown = b.ran({"find", "424"}).out;
    CHECK_THAT(shown, Contains("PET-00417-D") && Contains("Axlebox cover") && Contains("Bogie 1 / left") &&
                          Contains("Rack B") && Contains("crack, lower lug") && Contains("Asbestos") &&
                          Contains("weld") && Contains("6 x M12 x 40 bolt"));
    CHECK_THAT(b.ran({"refit", "list"}).out, !Contains("PET-00424"));
    CHECK_THAT(b.ran({"history", "417"}).out, Contains("crack") && Contains("PET-00424"));
    CHECK_THAT(b.ran({"find", "lower", "lug"}).out, Contains("PET-00417-D"));
    CHECK_THAT(b.ran({"tag", "list"}).out, Contains("means PET-00417-D"));
    // A parts list that still has it is refused in its line.
    const Ran import = b.ran({"parts", "import", (b.scratch / "parts.csv").string()});
    CHECK(import.status == 2);
    CHECK_THAT(import.err, Contains("one part with PET-00417-D"));
    // Taken back, everything is as it was.
    const Ran undone = b.ran({"undo"});
    INFO(undone.out << undone.err);
    REQUIRE(undone.status == 0);
    CHECK(b.said() == before);
    CHECK(b.photos_of("424") == Photos{"p2", "p3", "p4", "p7", "p8"});
    CHECK(b.ran({"check"}).status == 0);
}

TEST_CASE("A card dumped after the merge finds the part by either tag", "[line][mistakes]") {
    const MistakenBook b;
    REQUIRE(b.ran({"parts", "merge", "417", "424"}).status == 0);
    b.late.tag_shot(b.folder + "AAAA0011.JPG", "PET-00424", "2026:05:02 09:00:00");
    b.late.floor(b.folder + "AAAA0012.JPG", "2026:05:02 09:00:10");
    const json dumped = b.answer({"dump", b.late.text()});
    CHECK(dumped.at("new_parts").empty());
    CHECK(b.photos_of("417") == Photos{"p1", "p2", "p3", "p4", "p5", "p6", "p7", "p8", "p9", "p10"});
}

TEST_CASE("Tags mixed up after blasting are put right by date, for late cards too", "[line][mistakes]") {
    const MistakenBook b;
    REQUIRE(b.ran({"inspect", "417", "--reading", "bore", "45.02", "--on", "2026-03-25"}).status == 0);
    REQUIRE(b.ran({"inspect", "417", "--reading", "bore", "62.10", "--on", "2026-04-05"}).status == 0);
    REQUIRE(b.ran({"stage", "PET-00424", "blasted", "--from", "2026-04-01"}).status == 0);
    const std::string before = b.said();
    const Ran swapped = b.ran({"tag", "swap", "417", "424", "--since", "2026-03-30"});
    INFO(swapped.out << swapped.err);
    REQUIRE(swapped.status == 0);
    CHECK(b.photos_of("417") == Photos{"p1", "p2", "p7", "p8"});
    CHECK(b.photos_of("424") == Photos{"p3", "p4", "p5", "p6"});
    const json readings = b.answer({"inspect", "424"}).at("readings");
    REQUIRE(readings.size() == 1);
    CHECK(readings.at(0).at("value_mm").get<double>() == Approx(62.10));
    CHECK(b.answer({"inspect", "417"}).at("readings").size() == 1);
    CHECK_THAT(b.ran({"find", "417"}).out, Contains("the tag PET-00424") && Contains("2026-03-30"));
    CHECK_THAT(b.ran({"history", "424"}).out, Contains("PET-00417"));
    // A card of before and after that day, dumped only now.
    b.late.tag_shot(b.folder + "AAAA0011.JPG", "PET-00417", "2026:03:21 09:00:00", "B2");
    b.late.tag_shot(b.folder + "AAAA0012.JPG", "PET-00417", "2026:05:02 09:00:00", "B2");
    REQUIRE(b.ran({"dump", b.late.text()}).status == 0);
    CHECK(b.photos_of("417") == Photos{"p1", "p2", "p7", "p8", "p9"});
    CHECK(b.photos_of("424") == Photos{"p3", "p4", "p5", "p6", "p10"});
    // The dump does not stand in the way: it came after, and is linked anew.
    REQUIRE(b.ran({"undo", "--list"}).status == 0);
    const json acts = b.answer({"undo", "--list"}).at("acts");
    const Ran undone = b.ran({"undo", std::to_string(acts.at(0).at("act").get<int>())});
    INFO(undone.out << undone.err);
    REQUIRE(undone.status == 0);
    CHECK(b.photos_of("417") == Photos{"p1", "p2", "p5", "p6", "p9", "p10"});
    CHECK(b.said() == before);
}

TEST_CASE("A person's word on a photo is not overruled by a moved tag", "[line][mistakes]") {
    const MistakenBook b;
    REQUIRE(b.ran({"link", "p5", "417"}).status == 0);
    REQUIRE(b.ran({"tag", "move", "417", "431", "--since", "2026-04-02 08:00"}).status == 0);
    CHECK(b.photos_of("417").count("p5") == 1);
    CHECK(b.photos_of("417").count("p1") == 1);
    b.late.tag_shot(b.folder + "AAAA0011.JPG", "PET-00417", "2026:05:02 09:00:00");
    REQUIRE(b.ran({"dump", b.late.text()}).status == 0);
    CHECK(b.photos_of("431").count("p9") == 1);
}

TEST_CASE("A bag split in two gives a second part with its photos and its share", "[line][mistakes]") {
    const MistakenBook b;
    std::ofstream(b.scratch / "count.csv") << "tag,quantity,quantity present\n417,8,8\n";
    REQUIRE(b.ran({"parts", "import", (b.scratch / "count.csv").string()}).status == 0);
    const std::string before = b.said();
    const Ran split = b.ran({"parts", "split", "417", "500", "--photos", "p5,p6", "--quantity", "3", "--name",
                             "Axlebox cover, cracked"});
    INFO(split.out << split.err);
    REQUIRE(split.status == 0);
    CHECK(b.photos_of("417") == Photos{"p1", "p2"});
    CHECK(b.photos_of("500") == Photos{"p5", "p6"});
    const Ran counts = run({"sqlite3", b.book + "/book.db",
                            "SELECT name, assembly, quantity_present FROM part WHERE tag LIKE 'PET-00500%' "
                            "UNION ALL SELECT name, assembly, quantity_present FROM part WHERE tag LIKE "
                            "'PET-00417%'"});
    CHECK(counts.out == "Axlebox cover, cracked|Running gear|3\nAxlebox cover|Running gear|5\n");
    CHECK_THAT(b.ran({"history", "417"}).out, Contains("PET-00500"));
    REQUIRE(b.ran({"undo"}).status == 0);
    CHECK(b.said() == before);
    CHECK(b.photos_of("417") == Photos{"p1", "p2", "p5", "p6"});
    REQUIRE(b.ran({"parts", "split", "417", "500", "--since", "2026-04-01"}).status == 0);
    CHECK(b.photos_of("500") == Photos{"p5", "p6"});
}

TEST_CASE("What cannot be merged, split or moved is refused in one line, and nothing changes",
          "[line][mistakes]") {
    const MistakenBook b;
    REQUIRE(b.ran({"parts", "move", "431", "--under", "417"}).status == 0);
    std::ofstream(b.scratch / "count.csv") << "tag,quantity present\n417,2\n";
    REQUIRE(b.ran({"parts", "import", (b.scratch / "count.csv").string()}).status == 0);
    const std::string before = b.said();
    const auto refused = [&b](std::vector<std::string> words, const std::string& why) {
        const Ran said = b.ran(std::move(words));
        INFO(said.err);
        CHECK(said.status == 2);
        CHECK_THAT(said.err, Contains(why));
    };
    refused({"parts", "merge", "417", "417"}, "one part already");
    refused({"parts", "merge", "417", "999"}, "no part PET-00999");
    refused({"parts", "merge", "431", "417"}, "taken from the other");
    refused({"parts", "split", "417", "424"}, "a part of its own already");
    refused({"parts", "split", "417", "500", "--photos", "p99"}, "p99");
    refused({"parts", "split", "417", "500", "--quantity", "3"}, "cannot go under another tag");
    refused({"tag", "move", "417", "999", "--since", "2026-04-01"}, "no part PET-00999");
    refused({"tag", "move", "417", "417", "--since", "2026-04-01"}, "already");
    refused({"tag", "move", "417", "424", "--since", "soon"}, "write the day as");
    CHECK(b.said() == before);
}
