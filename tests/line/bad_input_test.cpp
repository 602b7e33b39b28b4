// Hostile and broken cards, books and lists: a clear line for each, and nothing lost.
#include <sys/stat.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <fstream>
#include <functional>

#include "made_card.h"
#include "program.h"
#include "scratch_folder.h"

using namespace stripbook::test;
using Catch::Contains;
using nlohmann::json;
namespace fs = std::filesystem;

namespace {

std::string new_book(const ScratchFolder& scratch) {
    const std::string book = (scratch / "livre é").string();
    REQUIRE(run_stripbook({"start", book, "--code", "PET", "--title", "Petrel"}).status == 0);
    return book;
}

// A JPEG whose head says 60000 x 60000 and whose picture is not there.
std::string huge_jpeg() {
    return std::string(
        "\xFF\xD8\xFF\xC0\x00\x11\x08\xEA\x60\xEA\x60\x03\x01\x22\x00\x02\x11\x01\x03\x11\x01\xFF\xD9", 23);
}

json file_named(const json& answer, const std::string& part_of_name) {
    for (const auto& file : answer.at("cards").at(0).at("files")) {
        if (file.at("name").get<std::string>().find(part_of_name) != std::string::npos) {
            return file;
        }
    }
    FAIL("no file " << part_of_name);
    return {};
}

// Runs the program as a plain user, for whom permissions count: as it is, or as nobody where the tests run as
// root. The build folder may be closed to nobody, so the program is copied to where it may be run.
std::function<Ran(std::vector<std::string>)> program_as_nobody(const ScratchFolder& scratch) {
    const std::string program = (scratch / "stripbook").string();
    fs::copy_file(program_path(), program);
    return [program](std::vector<std::string> words) {
        words.insert(words.begin(), program);
        if (geteuid() == 0) {
            const std::vector<std::string> as_nobody{"setpriv", "--reuid", "65534",
                                                     "--regid", "65534",   "--clear-groups"};
            words.insert(words.begin(), as_nobody.begin(), as_nobody.end());
        }
        return run(words);
    };
}

}  // namespace

TEST_CASE(
    "A card of broken and strange files: all are copied, the good ones linked, the card is not called "
    "wipeable",
    "[line]") {
    const ScratchFolder scratch;
    const std::string book = new_book(scratch);
    const MadeCard card(scratch / "card");
    card.tag_shot("DCIM/100AAAAA/AAAA0001.JPG", "PET-00417", "2026:03:20 09:00:00");
    const std::string whole = bytes_of(card.path() / "DCIM/100AAAAA/AAAA0001.JPG");
    card.file("DCIM/100AAAAA/AAAA0002.JPG", whole.substr(0, whole.size() / 2));
    card.file("DCIM/100AAAAA/AAAA0003.JPG", "");
    card.file("DCIM/100AAAAA/AAAA0004.JPG", huge_jpeg());
    card.file("DCIM/100AAAAA/AAAA0005.JPG", "this is a letter, not a photo\n");
    card.file("DCIM/100AAAAA/AAAA0006.MOV", "no real video");
    card.file("MISC/with \"quotes\" and\nnewline.txt", "x");
    card.file("MISC/not utf-8 \xFF\xFE.dat", "y");
    fs::create_symlink("..", card.path() / "DCIM/loop");
    fs::create_symlink("/etc/passwd", card.path() / "DCIM/out");

    const json answer = stripbook_json({"dump", card.text(), "--book", book});
    const json& result = answer.at("cards").at(0);
    CHECK(result.at("files").size() == 8);
    CHECK(result.at("may_be_wiped") == false);
    CHECK_THAT(result.at("verdict").get<std::string>(), Contains("do NOT wipe the card: 5 files copied"));
    CHECK(result.at("left_out").size() == 2);  // the links, not followed
    CHECK(file_named(answer, "0001").at("links").size() == 1);
    for (const auto& [name, note] :
         {std::pair("0002", "cut short"), std::pair("0003", "empty"), std::pair("0004", "60000"),
          std::pair("0005", "not a picture"), std::pair("0006", "not a video")}) {
        const auto file = file_named(answer, name);
        INFO(file.dump(1));
        CHECK(file.at("read") == "damaged");
        CHECK_THAT(file.at("read_note").get<std::string>(), Contains(note));
        CHECK_FALSE(file.at("unsettled").is_null());
    }
    CHECK_THAT(file_named(answer, "quotes").at("name").get<std::string>(), !Contains("\n"));
    // Every copy is what the card has, by sha256sum.
    for (const auto& file : result.at("files")) {
        CHECK(file.at("failure") == "");
    }
    const Ran sums = run(
        {"sh", "-c", "cd \"$0\" && find . -type f -exec sha256sum {} + | cut -c1-64 | sort", card.text()});
    const Ran copies = run(
        {"sh", "-c", "cd \"$0/photos\" && find . -type f -exec sha256sum {} + | cut -c1-64 | sort", book});
    // sha256sum puts a backslash before the sum of a name with a newline.
    CHECK(std::count(sums.out.begin(), sums.out.end(), '\n') == 8);
    CHECK(std::count(copies.out.begin(), copies.out.end(), '\n') == 8);
    CHECK(run_stripbook({"check", "--book", book}).status == 0);

    const Ran words = run_stripbook({"dump", card.text(), "--book", book});
    CHECK(words.status == 1);
    CHECK_THAT(words.out, Contains("do NOT wipe"));
    CHECK_THAT(words.out, Contains("8 in the book already"));
    // And a report of the part comes out whole.
    CHECK(run_stripbook({"report", "417", "--book", book, "--date", "2026-11-25"}).status == 0);
}

TEST_CASE("A folder without files, a card that is a file, no card at all", "[line]") {
    const ScratchFolder scratch;
    const std::string book = new_book(scratch);
    fs::create_directories(scratch / "empty");
    const Ran empty = run_stripbook({"dump", (scratch / "empty").string(), "--book", book});
    CHECK(empty.status == 0);
    CHECK_THAT(empty.out, Contains("there was nothing on the card to copy"));
    std::ofstream(scratch / "file") << "x";
    CHECK(run_stripbook({"dump", (scratch / "file").string(), "--book", book}).status == 2);
    const Ran missing = run_stripbook({"dump", (scratch / "no card").string(), "--book", book});
    CHECK(missing.status == 2);
    CHECK_THAT(missing.err, Contains("no card"));
    CHECK(run_stripbook({"dump", book, "--book", book}).status == 2);
}

TEST_CASE("A card that may not be read is said to be so", "[line]") {
    const ScratchFolder scratch;
    // Root may read everything: then the program runs as nobody, on a book of nobody's.
    fs::permissions(scratch.path(), fs::perms::all);
    const MadeCard card(scratch / "card");
    card.file("DCIM/100AAAAA/AAAA0001.JPG", "x");
    fs::permissions(card.path() / "DCIM", fs::perms::none);
    const auto run_as = program_as_nobody(scratch);
    const std::string book = (scratch / "book").string();
    REQUIRE(run_as({"start", book, "--code", "PET", "--title", "Petrel"}).status == 0);
    const Ran ran = run_as({"dump", card.text(), "--book", book});
    fs::permissions(card.path() / "DCIM", fs::perms::owner_all);
    INFO(ran.out << ran.err);
    CHECK(ran.status != 0);
    CHECK_THAT(ran.out + ran.err, Contains("DCIM"));
    CHECK_THAT(ran.out + ran.err, !Contains("may be wiped:"));
}

TEST_CASE("A read-only book serves find, report and check, and says why it takes nothing in", "[line]") {
    const ScratchFolder scratch;
    const std::string book = new_book(scratch);
    const MadeCard card(scratch / "card");
    card.tag_shot("DCIM/100AAAAA/AAAA0001.JPG", "PET-00417", "2026:03:20 09:00:00");
    REQUIRE(run_stripbook({"dump", card.text(), "--book", book}).status == 0);
    fs::permissions(scratch.path(), fs::perms::all);
    REQUIRE(run({"chmod", "-R", "a-w,a+rX", book}).status == 0);
    const auto run_as = program_as_nobody(scratch);
    CHECK_THAT(run_as({"find", "417", "--book", book}).out, Contains("PET-00417-D"));
    CHECK(run_as({"check", "--book", book}).status == 0);
    const Ran report = run_as({"report", "417", "--book", book, "--out", (scratch / "r.pdf").string()});
    INFO(report.err);
    CHECK(report.status == 0);
    CHECK(fs::exists(scratch / "r.pdf"));
    const Ran dump = run_as({"dump", card.text(), "--book", book});
    CHECK(dump.status == 3);
    CHECK_FALSE(dump.err.empty());
    REQUIRE(run({"chmod", "-R", "u+w", book}).status == 0);
}

TEST_CASE("Part names of any kind come back as they went in, and a report says what it cannot print",
          "[line]") {
    const ScratchFolder scratch;
    const std::string book = new_book(scratch);
    const std::string long_name(300, 'x');
    std::ofstream(scratch / "parts.csv")
        << "tag,name\r\nPET-00001," << long_name << "\r\nPET-00002,\"<b>5\"\" pipe</b>\"\r\n"
        << "PET-00003,غطاء صندوق المحور\r\nPET-00004,Ölwanne Ελατήριο Пружина\r\n";
    REQUIRE(run_stripbook({"parts", "import", (scratch / "parts.csv").string(), "--book", book}).status == 0);
    const json parts = stripbook_json({"parts", "list", "--book", book}).at("parts");
    CHECK(parts.at(0).at("name") == long_name);
    CHECK(parts.at(1).at("name") == "<b>5\" pipe</b>");
    CHECK(parts.at(2).at("name") == "غطاء صندوق المحور");
    const Ran reports =
        run_stripbook({"report", "--all", "--book", book, "--out", (scratch / "out").string()});
    CHECK(reports.status == 1);
    CHECK_THAT(reports.out, Contains("note: ") && Contains("Arabic"));
    for (const char* tag : {"PET-00001-O", "PET-00002-M", "PET-00003-K", "PET-00004-I"}) {
        const fs::path pdf = scratch / "out" / (std::string(tag) + ".pdf");
        INFO(pdf);
        REQUIRE(fs::exists(pdf));
        CHECK(run({"qpdf", "--check", pdf.string()}).status == 0);
    }
    const Ran text = run({"pdftotext", (scratch / "out" / "PET-00004-I.pdf").string(), "-"});
    CHECK_THAT(text.out, Contains("Ölwanne Ελατήριο Пружина"));
}

TEST_CASE("A parts list with a bad row is refused by its line, and nothing of it goes in", "[line]") {
    const ScratchFolder scratch;
    const std::string book = new_book(scratch);
    std::ofstream(scratch / "parts.csv") << "tag,name\nPET-00417,Axlebox cover\nPET-00424-X,Lever\n";
    const Ran ran = run_stripbook({"parts", "import", (scratch / "parts.csv").string(), "--book", book});
    CHECK(ran.status == 2);
    CHECK_THAT(ran.err, Contains("line 3") && Contains("PET-00424-X"));
    CHECK(stripbook_json({"parts", "list", "--book", book}).at("parts").empty());
    std::ofstream(scratch / "latin.csv", std::ios::binary) << "tag,name\nPET-00417,Kr\xFCmmer\n";
    const Ran latin = run_stripbook({"parts", "import", (scratch / "latin.csv").string(), "--book", book});
    CHECK(latin.status == 2);
    CHECK_THAT(latin.err, Contains("UTF-8"));
}

TEST_CASE("Wrong use is said in one line and changes nothing", "[line]") {
    const ScratchFolder scratch;
    const std::string book = new_book(scratch);
    const std::vector<std::vector<std::string>> wrongs{
        {},
        {"start", book, "--code", "PET", "--title", "again"},
        {"start", (scratch / "b").string(), "--code", "7", "--title", "x"},
        {"parts", "show", "417", "--book", book},
        {"link", "p1", "417", "--book", book},
        {"stage", "p1", "--book", book},
        {"report", "--book", book},
        {"report", "--all", "--date", "2026-02-30", "--book", book},
        {"find", "PET-00417-E", "--book", book},
        {"set", "link time", "soon", "--book", book},
        {"find", "x", "--book", (scratch / "nowhere").string()},
        {"no such command"}};
    for (const auto& words : wrongs) {
        const Ran ran = run_stripbook(words);
        INFO((words.empty() ? "" : words[0]) << ": " << ran.err);
        CHECK((ran.status == 2 || ran.status == 3));
        CHECK(ran.out.empty());
        CHECK(std::count(ran.err.begin(), ran.err.end(), '\n') == 1);
    }
}
