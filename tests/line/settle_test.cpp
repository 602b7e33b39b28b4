// A person's five minutes, by the built program: what waits, the printed sheet, decisions, stages, late
// cards.
#include <algorithm>
#include <catch2/catch.hpp>
#include <map>
#include <set>

#include "made_card.h"
#include "program.h"
#include "scratch_folder.h"

using namespace stripbook::test;
using Catch::Contains;
using nlohmann::json;
namespace fs = std::filesystem;

namespace {

std::string new_book(const ScratchFolder& scratch, const std::string& name = "book") {
    const std::string book = (scratch / name).string();
    REQUIRE(run_stripbook({"start", book, "--code", "PET", "--title", "Petrel"}).status == 0);
    REQUIRE(run_stripbook({"set", "who", "Ana", "--book", book}).status == 0);
    return book;
}

// Two photos before any tag shot, then a tag shot and a detail.
void untagged_first(const MadeCard& card) {
    card.floor("DCIM/100AAAAA/AAAA0001.JPG", "2026:03:20 09:00:00");
    card.floor("DCIM/100AAAAA/AAAA0002.JPG", "2026:03:20 09:00:30");
    card.tag_shot("DCIM/100AAAAA/AAAA0003.JPG", "PET-00417", "2026:03:20 09:20:00");
    card.floor("DCIM/100AAAAA/AAAA0004.JPG", "2026:03:20 09:20:20");
}

json groups_of(const std::string& book) {
    return stripbook_json({"unsettled", "--book", book}).at("groups");
}

// Photo hash and tag of every link, and the hashes of each open group: photo numbers do not matter.
std::set<std::string> what_holds(const std::string& book) {
    std::set<std::string> held;
    const json list = stripbook_json({"parts", "list", "--book", book});
    for (const auto& part : list.at("parts")) {
        const json shown = stripbook_json({"parts", "show", part.at("tag"), "--book", book});
        for (const auto& photo : shown.at("photos")) {
            held.insert(photo.at("sha256").get<std::string>() + " " + part.at("tag").get<std::string>());
        }
    }
    return held;
}

}  // namespace

TEST_CASE("What waits is listed in groups, settled in one go, and stays known", "[line]") {
    const ScratchFolder scratch;
    const std::string book = new_book(scratch);
    const MadeCard card(scratch / "card");
    untagged_first(card);
    const Ran dumped = run_stripbook({"dump", card.text(), "--book", book});
    CHECK_THAT(dumped.out, Contains("stripbook unsettled"));
    const Ran listed = run_stripbook({"unsettled", "--book", book});
    CHECK(listed.status == 1);
    CHECK_THAT(listed.out, Contains("2 photos in 1 group wait") && Contains("group 1") &&
                               Contains("p1, p2") && Contains("09:00:00 to 09:00:30") &&
                               Contains("stripbook settle 1"));
    const json groups = groups_of(book);
    REQUIRE(groups.size() == 1);
    CHECK(groups[0].at("photos") == json({"p1", "p2"}));
    CHECK(groups[0].at("state") == "open");

    const Ran settled = run_stripbook({"settle", "1", "PET-00417", "--book", book});
    CHECK(settled.status == 0);
    CHECK_THAT(settled.out, Contains("group 1: p1, p2 belong to PET-00417-D") &&
                                Contains("no photos wait for a person any more"));
    const Ran none = run_stripbook({"unsettled", "--book", book});
    CHECK(none.status == 0);
    const Ran again = run_stripbook({"settle", "1", "PET-00417", "--book", book});
    CHECK(again.status == 0);
    CHECK_THAT(again.out, Contains("as it was"));
    const Ran other = run_stripbook({"settle", "1", "none", "--book", book});
    CHECK(other.status == 2);
    CHECK_THAT(other.err, Contains("group 1 was settled on") && Contains("by Ana: PET-00417-D"));
    const json told = stripbook_json({"unsettled", "1", "--book", book}).at("groups");
    CHECK(told[0].at("state") == "settled");
    CHECK(told[0].at("decision") == "PET-00417-D");
    // Nothing that comes later overrules it.
    run_stripbook({"dump", card.text(), "--book", book});
    const json part = stripbook_json({"parts", "show", "417", "--book", book});
    CHECK(part.at("photos")[0].at("sure") == "said");
    CHECK(part.at("photos").size() == 4);
}

TEST_CASE("A wrong number refuses the whole command in one line", "[line]") {
    const ScratchFolder scratch;
    const std::string book = new_book(scratch);
    const MadeCard card(scratch / "card");
    untagged_first(card);
    run_stripbook({"dump", card.text(), "--book", book});
    const std::vector<std::vector<std::string>> refused{{"1", "2", "PET-00417"},
                                                        {"1-5", "none"},
                                                        {"1", "b"},
                                                        {"1", "1"},
                                                        {"1", "PET-00999"},
                                                        {"1", "maybe"},
                                                        {"1", "PET-00417-X"},
                                                        {"1", "apart", "p9"},
                                                        {"none"},
                                                        {"1"},
                                                        {}};
    for (auto words : refused) {
        words.insert(words.begin(), "settle");
        words.insert(words.end(), {"--book", book});
        const Ran ran = run_stripbook(words);
        INFO(ran.err);
        CHECK(ran.status == 2);
        CHECK(std::count(ran.err.begin(), ran.err.end(), '\n') == 1);
    }
    CHECK(groups_of(book).size() == 1);
    CHECK(groups_of(book)[0].at("photos").size() == 2);
}

TEST_CASE("A decision changes what follows, and that is listed", "[line]") {
    const ScratchFolder scratch;
    const std::string book = new_book(scratch);
    const MadeCard card(scratch / "card");
    untagged_first(card);
    run_stripbook({"dump", card.text(), "--book", book});
    const Ran apart = run_stripbook({"settle", "1", "apart", "p2", "--book", book});
    CHECK_THAT(apart.out, Contains("not one group: group 2, group 3"));
    const Ran settled = run_stripbook({"settle", "2", "PET-00417", "--book", book});
    CHECK(settled.status == 0);
    CHECK_THAT(settled.out, Contains("so p2 now belongs to PET-00417-D"));
    const Ran gone = run_stripbook({"unsettled", "3", "--book", book});
    CHECK_THAT(gone.out, Contains("group 3 waits no more since") && Contains("p2 to PET-00417-D"));
    CHECK(gone.status == 0);
    const json back = stripbook_json({"settle", "2", "back", "--book", book});
    CHECK(back.at("groups_waiting") == 2);
    CHECK(groups_of(book)[0].at("group") == 2);
    const json none = stripbook_json({"settle", "2-3", "none", "--book", book});
    CHECK(none.at("groups_waiting") == 0);
    CHECK(none.at("settled")[1].at("decision") == "no part");
}

TEST_CASE("The printed sheet shows groups, thumbnails and the command, and other programs take it",
          "[line]") {
    const ScratchFolder scratch;
    const std::string book = new_book(scratch);
    const MadeCard card(scratch / "card");
    card.tag_shot("DCIM/100AAAAA/AAAA0001.JPG", "PET-00417", "2026:03:20 09:00:00");
    card.floor("DCIM/100AAAAA/AAAA0002.JPG", "2026:03:20 09:30:00");
    card.floor("DCIM/100AAAAA/AAAA0003.JPG", "2026:03:20 09:30:30");
    run_stripbook({"dump", card.text(), "--book", book});
    const std::string file = (scratch / "sheet.pdf").string();
    const Ran ran = run_stripbook({"unsettled", "--sheet", "--out", file, "--book", book});
    INFO(ran.err);
    CHECK(ran.status == 1);
    CHECK(run({"qpdf", "--check", file}).status == 0);
    const std::string words = run({"pdftotext", "-layout", file, "-"}).out;
    CHECK_THAT(words, Contains("Group 1") && Contains("p2, p3") && Contains("PET-00417-D") &&
                          Contains("stripbook settle 1"));
    // The columns are embedded, subset, to Unicode: only the last may be no.
    CHECK_THAT(run({"pdffonts", file}).out,
               Contains("yes yes no") && !Contains("no  yes") && !Contains("no  no"));
    CHECK(run_stripbook({"unsettled", "--sheet", "--paper", "postcard", "--book", book}).status == 2);
    CHECK(run_stripbook({"unsettled", "--out", file, "--book", book}).status == 2);
    CHECK(run_stripbook({"settle", "1", "none", "--book", book}).status == 0);
    CHECK(run_stripbook({"unsettled", "--sheet", "--out", file, "--book", book}).status == 0);
}

TEST_CASE(
    "A late card changes links of earlier photos, which are listed, and the order of cards does not matter",
    "[line]") {
    const ScratchFolder scratch;
    const MadeCard early(scratch / "early");
    early.tag_shot("DCIM/100AAAAA/AAAA0001.JPG", "PET-00417", "2026:03:20 09:00:00");
    early.floor("DCIM/100AAAAA/AAAA0003.JPG", "2026:03:20 09:01:00");
    early.floor("DCIM/100AAAAA/AAAA0005.JPG", "2026:03:20 10:00:00");
    const MadeCard late(scratch / "late");
    late.tag_shot("DCIM/100AAAAA/AAAA0002.JPG", "PET-00424", "2026:03:20 09:00:40");
    late.tag_shot("DCIM/100AAAAA/AAAA0004.JPG", "PET-00431", "2026:03:20 09:59:30");
    const std::string one = new_book(scratch, "one");
    run_stripbook({"dump", early.text(), "--book", one});
    REQUIRE(groups_of(one).size() == 1);
    const Ran dumped = run_stripbook({"dump", late.text(), "--book", one});
    CHECK_THAT(dumped.out, Contains("this card changed 3 links of earlier photos") &&
                               Contains("p2 now belongs to PET-00424") &&
                               Contains("p2 no longer belongs to PET-00417-D") &&
                               Contains("p3 now belongs to PET-00431"));
    CHECK(groups_of(one).empty());
    const json same_again = stripbook_json({"dump", late.text(), "--book", one});
    CHECK(same_again.at("changed_links").empty());

    const std::string other = new_book(scratch, "other");
    const json first = stripbook_json({"dump", late.text(), "--book", other});
    CHECK(first.at("changed_links").empty());
    run_stripbook({"dump", early.text(), "--book", other});
    const std::string together = new_book(scratch, "together");
    run_stripbook({"dump", late.text(), early.text(), "--book", together});
    CHECK(what_holds(one).size() == 5);
    CHECK(what_holds(one) == what_holds(other));
    CHECK(what_holds(one) == what_holds(together));
}

TEST_CASE("A stage card in the picture, a range and a day set stages", "[line]") {
    const ScratchFolder scratch;
    const std::string book = new_book(scratch);
    const MadeCard card(scratch / "card");
    card.tag_shot("DCIM/100AAAAA/AAAA0001.JPG", "PET-00417", "2026:03:20 09:00:00");
    card.tag_shot("DCIM/100AAAAA/AAAA0002.JPG", "PET-00417", "2026:04:02 09:00:00");
    card.stage_card_shot("DCIM/100AAAAA/AAAA0003.JPG", "cleaned", "2026:04:02 09:00:20");
    card.floor("DCIM/100AAAAA/AAAA0004.JPG", "2026:04:02 09:00:40");
    card.tag_shot("DCIM/100AAAAA/AAAA0005.JPG", "PET-00417", "2026:05:02 09:00:00");
    REQUIRE(run_stripbook({"dump", card.text(), "--book", book}).status == 0);
    const auto stages = [&] {
        std::map<std::string, std::string> all;
        const json part = stripbook_json({"parts", "show", "417", "--book", book});
        for (const auto& photo : part.at("photos")) {
            all[photo.at("photo")] = photo.at("stage");
        }
        return all;
    };
    using Stages = std::map<std::string, std::string>;
    CHECK(stages() ==
          Stages{{"p1", "as-removed"}, {"p2", ""}, {"p3", "cleaned"}, {"p4", "cleaned"}, {"p5", ""}});
    const json one =
        stripbook_json({"stage", "PET-00417", "painted", "--from", "2026-05-01", "--book", book});
    CHECK(one.at("tag") == "PET-00417-D");
    CHECK(stages().at("p5") == "painted");
    CHECK_THAT(run_stripbook({"find", "417", "--book", book}).out,
               Contains("Ana said that the part is painted from 2026-05-01 on") &&
                   Contains("it follows p3, which shows a stage card"));
    const Ran range = run_stripbook({"stage", "p2-p4", "inspected", "--book", book});
    CHECK_THAT(range.out, Contains("p2-p4 show the stage inspected"));
    CHECK(stages().at("p3") == "inspected");
    CHECK(run_stripbook({"stage", "p2-p4", "--clear", "--book", book}).status == 0);
    CHECK(stages().at("p3") == "cleaned");
    CHECK(run_stripbook({"stage", "PET-00417", "--clear", "--from", "2026-05-01", "--book", book}).status ==
          0);
    CHECK(stages().at("p5").empty());
    const std::vector<std::vector<std::string>> refused{{"p2", "shiny"},
                                                        {"p2-p9", "cleaned"},
                                                        {"p4-p2", "cleaned"},
                                                        {"PET-00417", "cleaned"},
                                                        {"p2"},
                                                        {},
                                                        {"cleaned"},
                                                        {"p2", "cleaned", "--from", "2026-05-01"},
                                                        {"PET-00417", "cleaned", "--from", "May"},
                                                        {"p2", "cleaned", "--clear"}};
    for (auto words : refused) {
        words.insert(words.begin(), "stage");
        words.insert(words.end(), {"--book", book});
        const Ran ran = run_stripbook(words);
        INFO(ran.err);
        CHECK(ran.status == 2);
        CHECK(std::count(ran.err.begin(), ran.err.end(), '\n') == 1);
    }
    CHECK(stages().at("p3") == "cleaned");
}
