// Putting it back together, by the built program: the order, what is next, notes, and the sheet.
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

constexpr const char* parts_csv =
    "tag,name,assembly,place,storage,path,parent,cautions\n"
    "1,Brake block,Running gear,Bogie 1 / left,Rack A,use again,,heavy: 14 kg\n"
    "2,Axlebox cover,Running gear,Bogie 1 / axle 1,Rack B / shelf 3,use again,,\n"
    "3,Fuel tap,Engine,Tank / underneath,Tray 7,repair,,fuel\n"
    "4,Tap handle,Engine,On the tap,Tray 7,use again,3,\n"
    "5,Old gasket,Engine,Under the tap,,scrap,,\n";

// Parts 1 to 5 come off in this order, ten minutes apart; of 4 there is no photo.
struct StrippedBook {
    StrippedBook() {
        REQUIRE(
            run_stripbook({"start", book, "--code", "PET", "--title", "Inspection railcar Petrel"}).status ==
            0);
        std::ofstream(scratch / "parts.csv") << parts_csv;
        REQUIRE(ran({"parts", "import", (scratch / "parts.csv").string()}).status == 0);
        const MadeCard card(scratch / "card");
        card.tag_shot("DCIM/100AAAAA/AAAA0001.JPG", "PET-00001", "2026:03:20 09:00:00");
        card.tag_shot("DCIM/100AAAAA/AAAA0002.JPG", "PET-00002", "2026:03:20 09:10:00");
        card.tag_shot("DCIM/100AAAAA/AAAA0003.JPG", "PET-00003", "2026:03:20 09:20:00");
        card.tag_shot("DCIM/100AAAAA/AAAA0005.JPG", "PET-00005", "2026:03:20 09:30:00");
        REQUIRE(ran({"dump", card.text()}).status == 0);
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

std::vector<int> serials_in(const json& parts) {
    std::vector<int> serials;
    for (const auto& part : parts) {
        serials.push_back(std::stoi(part.at("tag").get<std::string>().substr(4, 5)));
    }
    return serials;
}

}  // namespace

TEST_CASE("The way back is the reverse of removal, corrected by words, and a circle is named", "[line]") {
    const StrippedBook b;
    CHECK(serials_in(b.answer({"refit", "list"}).at("parts")) == std::vector<int>{5, 3, 2, 1, 4});

    const json said = b.answer({"refit", "before", "1", "2", "--by", "Ana"});
    CHECK(said.at("words").at(0).at("who") == "Ana");
    CHECK(serials_in(b.answer({"refit", "list"}).at("parts")) == std::vector<int>{5, 3, 1, 2, 4});
    CHECK(b.ran({"refit", "together", "3", "4"}).status == 0);
    CHECK(serials_in(b.answer({"refit", "list"}).at("parts")) == std::vector<int>{5, 3, 4, 1, 2});

    const Ran circle = b.ran({"refit", "before", "2", "1", "--by", "Ben"});
    CHECK(circle.status == 1);
    CHECK_THAT(circle.out, Contains("a circle") && Contains("PET-00001-O Brake block") &&
                               Contains("PET-00002-M Axlebox cover") && Contains("said by Ana") &&
                               Contains("said by Ben") && Contains("stripbook refit forget"));
    const json list = b.answer({"refit", "list"});
    CHECK(list.at("circles").at(0).at("tags").size() == 2);
    CHECK(list.at("parts").at(3).at("step").is_null());
    CHECK(b.ran({"refit", "next"}).status == 1);

    CHECK(b.ran({"refit", "forget", "1", "2"}).status == 0);
    CHECK(b.answer({"refit", "list"}).at("circles").empty());
    CHECK_THAT(b.ran({"parts", "show", "2"}).out, Contains("goes in after PET-00001-O"));
    const Ran nothing = b.ran({"refit", "forget", "1", "2"});
    CHECK(nothing.status == 2);
    CHECK_THAT(nothing.err, Contains("nobody said anything"));
    CHECK(b.ran({"refit", "before", "1", "1"}).status == 2);
    CHECK(b.ran({"refit", "before", "1", "99"}).status == 2);
    CHECK(b.ran({"refit", "together", "1"}).status == 2);
    CHECK_THAT(b.ran({"refit", "before", "1"}).err, Contains("name two parts"));
    CHECK_THAT(b.ran({"refit", "forget", "1", "2", "3"}).err, Contains("name two parts"));
}

TEST_CASE("Next says what can go in now and what is held up by what, until everything is in place",
          "[line]") {
    const StrippedBook b;
    REQUIRE(b.ran({"refit", "before", "3", "2"}).status == 0);
    json next = b.answer({"refit", "next"});
    CHECK(serials_in(next.at("can_go_in")) == std::vector<int>{1, 4});
    CHECK(serials_in(next.at("held_up")) == std::vector<int>{3, 2});
    CHECK_THAT(next.at("held_up").at(0).dump(), Contains("its path is repair: not repaired"));
    CHECK_THAT(next.at("held_up").at(1).dump(), Contains("PET-00003-K Fuel tap must be in first"));
    const Ran words = b.ran({"refit", "next"});
    CHECK(words.status == 0);
    CHECK_THAT(words.out, Contains("goes to: Bogie 1 / left") && Contains("lies in: Rack A") &&
                              Contains("2 parts can go in, 2 held up, 0 in place, 1 scrap"));
    CHECK(serials_in(b.answer({"refit", "next", "--assembly", "RUNNING"}).at("can_go_in")) ==
          std::vector<int>{1});

    const Ran no_such = b.ran({"refit", "next", "--assembly", "no such"});
    CHECK(no_such.status == 1);
    CHECK_THAT(no_such.out, Contains("no part's assembly has these words"));

    // A person's word counts, and what the book has against it is said.
    const Ran early = b.ran({"refit", "done", "2", "--by", "Ben"});
    CHECK(early.status == 1);
    CHECK_THAT(early.out, Contains("PET-00002-M Axlebox cover is in place (said by Ben") &&
                              Contains("PET-00003-K Fuel tap must be in first"));
    CHECK(b.ran({"refit", "done", "2", "--undo"}).status == 0);
    CHECK(serials_in(b.answer({"refit", "next"}).at("held_up")) == std::vector<int>{3, 2});

    std::ofstream(b.scratch / "parts.csv") << "tag,path\n3,use again\n";
    REQUIRE(b.ran({"parts", "import", (b.scratch / "parts.csv").string()}).status == 0);
    next = b.answer({"refit", "next"});
    CHECK(serials_in(next.at("can_go_in")) == std::vector<int>{3, 1, 4});
    CHECK(next.at("can_go_in").at(0).at("in_turn") == true);
    CHECK(next.at("can_go_in").at(1).at("in_turn") == false);
    CHECK(b.ran({"refit", "done", "3", "2", "1", "4"}).status == 0);
    CHECK_THAT(b.ran({"refit", "next"}).out, Contains("0 parts can go in, 0 held up, 4 in place"));
    CHECK_THAT(b.ran({"parts", "show", "3"}).out, Contains("refitted"));
    CHECK(b.ran({"refit", "done", "99"}).status == 2);
}

TEST_CASE("Refit notes are typed one behind the other, corrected and ended", "[line]") {
    const StrippedBook b;
    const json notes = b.answer({"refit",
                                 "note",
                                 "2",
                                 "--match-marks",
                                 "two dots at the top",
                                 "--way-round",
                                 "arrow to the front",
                                 "--shim",
                                 "left horn",
                                 "0.8mm",
                                 "--shim",
                                 "right horn",
                                 "1/32 in",
                                 "--count",
                                 "2",
                                 "--torque",
                                 "M12 nuts",
                                 "70 N.m",
                                 "--source",
                                 "works manual p. 12",
                                 "--new",
                                 "split pin 4 x 40",
                                 "--count",
                                 "3",
                                 "--setting",
                                 "3 turns from closed",
                                 "--fastener",
                                 "M12 x 50",
                                 "--count",
                                 "4",
                                 "--where",
                                 "cover flange",
                                 "--by",
                                 "Ana"})
                           .at("notes");
    std::string texts;
    for (const auto& note : notes) {
        texts +=
            std::to_string(note.at("number").get<int>()) + " " + note.at("text").get<std::string>() + "\n";
    }
    CHECK(texts ==
          "1 two dots at the top\n2 arrow to the front\n3 left horn: 0.8 mm\n4 right horn: 2 of 0.79375 mm\n"
          "5 M12 nuts: 70 N.m (works manual p. 12)\n6 3 of split pin 4 x 40\n7 3 turns from closed\n"
          "8 4 of M12 x 50, cover flange\n");
    CHECK(notes.at(0).at("who") == "Ana");
    CHECK(notes.at(7).at("size") == "M12");
    CHECK(notes.at(7).at("length") == "50");

    CHECK_THAT(b.ran({"refit", "note", "2", "--correct", "3", "--shim", "left horn", "0.9mm"}).out,
               Contains("left horn: 0.9 mm"));
    CHECK(b.answer({"refit", "note", "2", "--end", "4"}).at("notes").size() == 7);
    CHECK(b.answer({"refit", "note", "2"}).at("notes").size() == 7);
    CHECK_THAT(b.ran({"parts", "show", "2"}).out, Contains("right horn: 2 of 0.79375 mm"));

    const std::vector<std::pair<std::vector<std::string>, std::string>> refused{
        {{"--torque", "M12 nuts", "70"}, "with its unit"},
        {{"--torque", "M12 nuts", "70 N.m"}, "--source"},
        {{"--shim", "left horn", "thin"}, "a thickness is written"},
        {{"--count", "2"}, "behind that entry"},
        {{"--new", "split pin", "--count", "two"}, "whole number"},
        {{"--correct", "99", "--setting", "x"}, "no refit note 99"},
        {{"--correct", "x", "--setting", "x"}, "whole number"},
        {{"--correct", "3"}, "that one entry"},
        {{"--end", "1", "--setting", "x"}, "give it alone"}};
    for (const auto& [typed, answer] : refused) {
        std::vector<std::string> words{"refit", "note", "2"};
        words.insert(words.end(), typed.begin(), typed.end());
        const Ran ran = b.ran(words);
        INFO(ran.err);
        CHECK(ran.status == 2);
        CHECK_THAT(ran.err, Contains(answer));
    }
    CHECK(b.answer({"refit", "note", "2"}).at("notes").size() == 7);
}

TEST_CASE("The sheet holds what was asked for, in the order of refitting, on either paper", "[line]") {
    const StrippedBook b;
    REQUIRE(
        b.ran({"refit", "note", "2", "--torque", "M12 nuts", "52 lbf.ft", "--source", "works manual p. 12"})
            .status == 0);
    const std::string pdf = (b.scratch / "sheet.pdf").string();
    const json all = b.answer({"refit", "sheet", "--all", "--out", pdf});
    CHECK(all.at("parts") == 4);  // not the scrap gasket
    CHECK(all.at("photos") ==
          4);  // three of their own, and of the handle that of the tap it was stripped from
    CHECK(run({"qpdf", "--check", pdf}).status == 0);
    const std::string words = run({"pdftotext", pdf, "-"}).out;
    CHECK_THAT(words, Contains("52 lbf.ft") && Contains("70.5 N.m") && Contains("Caution: heavy: 14 kg") &&
                          Contains("Not yet: its path is repair") && Contains("Local codes") &&
                          Contains("stripped from: PET-00003-K Fuel tap"));
    CHECK(words.find("PET-00003-K") < words.find("PET-00002-M"));
    CHECK(words.find("PET-00002-M") < words.find("PET-00001-O"));

    CHECK(b.answer({"refit", "sheet", "--next", "--out", pdf}).at("parts") == 3);
    CHECK(b.answer({"refit", "sheet", "--assembly", "running gear", "--out", pdf}).at("parts") == 2);
    CHECK(b.answer({"refit", "sheet", "2", "--paper", "letter", "--out", pdf}).at("pages") == 1);
    CHECK_THAT(run({"pdfinfo", pdf}).out, Contains("(letter)"));
    const Ran written = b.ran({"refit", "sheet", "2"});
    CHECK(written.status == 0);
    CHECK(fs::exists(fs::path(b.book) / "reports" / "refit-sheet.pdf"));

    CHECK(b.ran({"refit", "sheet", "--next", "--assembly", "no such"}).status == 1);
    CHECK(b.ran({"refit", "sheet"}).status == 2);
    CHECK(b.ran({"refit", "sheet", "2", "--all"}).status == 2);
    CHECK(b.ran({"refit", "sheet", "99"}).status == 2);
    CHECK(b.ran({"refit", "sheet", "2", "--paper", "a3"}).status == 2);
    CHECK(b.ran({"refit", "sheet", "2", "--out", "/no/such/folder/x.pdf"}).status == 3);
}
