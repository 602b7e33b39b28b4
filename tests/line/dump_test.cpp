// Dump as the lead uses it: again, in any order, stopped half way, with two copies.
#include <csignal>

#include <catch2/catch.hpp>
#include <fstream>
#include <map>
#include <set>
#include <thread>

#include "made_card.h"
#include "program.h"
#include "scratch_folder.h"

using namespace stripbook::test;
using Catch::Contains;
using nlohmann::json;
namespace fs = std::filesystem;

namespace {

std::string new_book(const ScratchFolder& scratch, const std::string& name) {
    const std::string book = (scratch / name).string();
    REQUIRE(run_stripbook({"start", book, "--code", "PET", "--title", "Petrel"}).status == 0);
    return book;
}

// Two cameras' morning: tag shot and details each, one of them over the counter's roll-over.
struct Morning {
    explicit Morning(const ScratchFolder& scratch) : first(scratch / "card 1"), second(scratch / "card 2") {
        first.tag_shot("DCIM/100AAAAA/AAAA9998.JPG", "PET-00417", "2026:03:20 09:00:00");
        first.floor("DCIM/100AAAAA/AAAA9999.JPG", "2026:03:20 09:00:20");
        first.floor("DCIM/101AAAAA/AAAA0001.JPG", "2026:03:20 09:00:40");
        first.tag_shot("DCIM/101AAAAA/AAAA0002.JPG", "PET-00424", "2026:03:20 09:05:00");
        second.tag_shot("DCIM/100BBBBB/BBBB0001.JPG", "PET-00431", "2026:03:20 09:00:10", "B2");
        second.floor("DCIM/100BBBBB/BBBB0002.JPG", "2026:03:20 09:00:50", "B2");
    }
    MadeCard first;
    MadeCard second;
};

// Links by the original's hash, so that photo numbers do not matter.
std::set<std::string> links_of(const std::string& book) {
    std::set<std::string> links;
    const json list = stripbook_json({"parts", "list", "--book", book});
    for (const auto& part : list.at("parts")) {
        const json shown = stripbook_json({"parts", "show", part.at("tag"), "--book", book});
        for (const auto& photo : shown.at("photos")) {
            links.insert(photo.at("sha256").get<std::string>() + " " + part.at("tag").get<std::string>());
        }
    }
    return links;
}

}  // namespace

TEST_CASE("Cards in any order, and the same card again, give the same book", "[line]") {
    const ScratchFolder scratch;
    const Morning morning(scratch);
    const std::string one = new_book(scratch, "one");
    const std::string other = new_book(scratch, "other");
    REQUIRE(run_stripbook({"dump", morning.first.text(), morning.second.text(), "--book", one}).status == 0);
    REQUIRE(run_stripbook({"dump", morning.second.text(), "--book", other}).status == 0);
    REQUIRE(run_stripbook({"dump", morning.first.text(), "--book", other}).status == 0);
    CHECK(links_of(one).size() == 6);
    CHECK(links_of(one) == links_of(other));

    const json again = stripbook_json({"dump", morning.first.text(), "--book", one});
    CHECK(again.at("cards")[0].at("bytes_new") == 0);
    for (const auto& file : again.at("cards")[0].at("files")) {
        CHECK(file.at("known") == true);
    }
    CHECK(again.at("new_parts").empty());
    CHECK(links_of(one) == links_of(other));
    CHECK(stripbook_json({"check", "--book", one}).at("files") == 6);
}

TEST_CASE("A folder without a photo is taken in, and it is asked whether it is the card", "[line]") {
    const ScratchFolder scratch;
    const Morning morning(scratch);
    const std::string book = new_book(scratch, "book");
    const std::string question = "there is no photo or video in it: is this the card?";
    const MadeCard papers(scratch / "papers");
    papers.file("letter.txt", "Dear Sir");
    const Ran other = run_stripbook({"dump", papers.text(), morning.first.text(), "--book", book});
    CHECK_THAT(other.out, Contains("Note          " + question));
    CHECK(other.out.find(question) == other.out.rfind(question));  // of the papers only
    const std::string warning = "papers: do NOT wipe it: there is no photo or video in it";
    CHECK_THAT(other.out, Contains(warning));
    CHECK(other.out.find(warning) == other.out.rfind(warning));
    CHECK(other.status == 1);
    // A second copy makes no card of it.
    const std::string second = (scratch / "second").string();
    const json twice = stripbook_json({"dump", papers.text(), "--book", book, "--second", second});
    CHECK(twice.at("cards")[0].at("may_be_wiped") == false);
}

TEST_CASE("Two copies are proved by sha256sum before a card may be wiped", "[line]") {
    const ScratchFolder scratch;
    const Morning morning(scratch);
    const std::string book = new_book(scratch, "book");
    const Ran once = run_stripbook({"dump", morning.first.text(), "--book", book});
    CHECK_THAT(once.out, Contains("copied once; make a second copy before wiping"));
    const std::string second = (scratch / "second").string();
    const json twice = stripbook_json({"dump", morning.first.text(), "--book", book, "--second", second});
    for (const auto& file : twice.at("cards")[0].at("files")) {
        CHECK(file.at("second_copy") == true);
        const Ran sum =
            run({"sha256sum", (scratch / "second" / "PET" / file.at("stored").get<std::string>()).string()});
        CHECK(sum.out.substr(0, 64) == file.at("sha256").get<std::string>());
    }
    // The scratch folder is one disk: two copies on it are no safety, and the program says so.
    CHECK(twice.at("cards")[0].at("may_be_wiped") == false);
    CHECK_THAT(twice.at("cards")[0].at("verdict").get<std::string>(), Contains("same disk"));
}

TEST_CASE("A damaged, a lost and a foreign file are found by check, which then exits 3", "[line]") {
    const ScratchFolder scratch;
    const Morning morning(scratch);
    const std::string book = new_book(scratch, "book");
    const json dumped = stripbook_json({"dump", morning.first.text(), "--book", book});
    const auto stored = [&](std::size_t i) {
        return fs::path(book) / dumped.at("cards")[0].at("files")[i].at("stored").get<std::string>();
    };
    std::string bytes = bytes_of(stored(0));
    bytes[bytes.size() / 2] = static_cast<char>(bytes[bytes.size() / 2] ^ 1);
    fs::permissions(stored(0), fs::perms::owner_write, fs::perm_options::add);
    std::ofstream(stored(0), std::ios::binary) << bytes;
    fs::remove(stored(1));
    std::ofstream(stored(2).parent_path() / "stranger.txt") << "x";
    const Ran words = run_stripbook({"check", "--book", book});
    CHECK(words.status == 3);
    const json answer = stripbook_json({"check", "--book", book});
    CHECK(answer.at("changed").size() == 1);
    CHECK(answer.at("missing").size() == 1);
    CHECK(answer.at("extra").size() == 1);
    // The card puts back what was lost.
    run_stripbook({"dump", morning.first.text(), "--book", book});
    CHECK(stripbook_json({"check", "--book", book}).at("missing").empty());
}

TEST_CASE("Stopped or killed at any moment, the same command run again finishes and nothing is doubled",
          "[line]") {
    const ScratchFolder scratch;
    const Morning morning(scratch);
    for (int i = 0; i < 40; ++i) {
        morning.first.file("DCIM/101AAAAA/CLIP" + std::to_string(1000 + i) + ".MOV",
                           std::string(300000, char('a' + i % 26)) + std::to_string(i));
    }
    const std::string book = new_book(scratch, "book");
    int stopped = 0;
    for (const int signal : {SIGINT, SIGKILL, SIGTERM, SIGKILL, SIGINT}) {
        for (const int wait_ms : {20, 60, 150, 400}) {
            const int process = start_stripbook({"dump", morning.first.text(), "--book", book});
            std::this_thread::sleep_for(std::chrono::milliseconds(wait_ms));
            kill(process, signal);
            const int status = wait_for(process);
            CHECK((status == 0 || status == 1 || status == 3 || status == 128 + signal));
            stopped += status == 3 || status >= 128 ? 1 : 0;
        }
    }
    CHECK(stopped > 0);
    const json last = stripbook_json({"dump", morning.first.text(), "--book", book});
    CHECK(last.at("cards")[0].at("files").size() == 44);
    const json check = stripbook_json({"check", "--book", book});
    INFO(check.dump(1));
    CHECK(check.at("good") == true);
    CHECK(check.at("files") == 44);
    CHECK(links_of(book).size() == 4);
}

TEST_CASE("A book that another command is writing to says so, and a second dump waits its turn", "[line]") {
    const ScratchFolder scratch;
    const Morning morning(scratch);
    const std::string book = new_book(scratch, "book");
    const int one = start_stripbook({"dump", morning.first.text(), "--book", book});
    const int two = start_stripbook({"dump", morning.second.text(), "--book", book});
    const int first_status = wait_for(one);
    const int second_status = wait_for(two);
    CHECK((first_status == 0 || first_status == 3));
    CHECK((second_status == 0 || second_status == 3));
    CHECK((first_status == 0 || second_status == 0));
    run_stripbook({"dump", morning.first.text(), morning.second.text(), "--book", book});
    CHECK(stripbook_json({"check", "--book", book}).at("good") == true);
    CHECK(links_of(book).size() == 6);
}

TEST_CASE("A person's word stays through later dumps, and what follows from it follows", "[line]") {
    const ScratchFolder scratch;
    const std::string book = new_book(scratch, "book");
    const MadeCard card(scratch / "card");
    card.floor("DCIM/100AAAAA/AAAA0001.JPG", "2026:03:20 09:00:00");
    card.floor("DCIM/100AAAAA/AAAA0002.JPG", "2026:03:20 09:00:30");
    card.tag_shot("DCIM/100AAAAA/AAAA0003.JPG", "PET-00417", "2026:03:20 09:10:00");
    const Ran first = run_stripbook({"dump", card.text(), "--book", book});
    CHECK(first.status == 1);
    CHECK_THAT(first.out, Contains("or of a part whose tag was not shot"));
    const Ran linked = run_stripbook({"link", "p1", "417", "--book", book});
    CHECK(linked.status == 0);
    CHECK_THAT(linked.out, Contains("so p2 now belongs to PET-00417-D"));
    REQUIRE(run_stripbook({"unlink", "p2", "417", "--book", book}).status == 0);
    run_stripbook({"dump", card.text(), "--book", book});
    std::map<std::string, std::string> how;
    const json found = stripbook_json({"find", "417", "--book", book});
    for (const auto& photo : found.at("parts").at(0).at("photos")) {
        how[photo.at("photo")] = photo.at("sure");
    }
    CHECK(how == std::map<std::string, std::string>{{"p1", "said"}, {"p3", "sure"}});
    REQUIRE(run_stripbook({"stage", "p3", "cleaned", "--book", book}).status == 0);
    CHECK_THAT(run_stripbook({"find", "417", "--book", book}).out, Contains("cleaned"));
}

TEST_CASE("Tags of another book make no part, and the question is asked", "[line]") {
    const ScratchFolder scratch;
    const std::string book = new_book(scratch, "book");
    const MadeCard card(scratch / "card");
    card.tag_shot("DCIM/100AAAAA/AAAA0001.JPG", "OAK-29565", "2026:03:20 09:00:00");
    card.floor("DCIM/100AAAAA/AAAA0002.JPG", "2026:03:20 09:00:30");
    const Ran ran = run_stripbook({"dump", card.text(), "--book", book});
    CHECK(ran.status == 1);
    CHECK_THAT(ran.out, Contains("1 tag of OAK: right book?"));
    CHECK(stripbook_json({"parts", "list", "--book", book}).at("parts").empty());
}
