// Sheets for a dealer or a machine shop.
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <regex>

#include "made_card.h"
#include "program.h"
#include "scratch_folder.h"

using namespace stripbook::test;
using Catch::Contains;
using nlohmann::json;

namespace {

struct WantedBook {
    WantedBook() : card(scratch / "card") {
        REQUIRE(run_stripbook({"start", book, "--code", "PET", "--title", "Petrel"}).status == 0);
        std::ofstream(scratch / "parts.csv")
            << "tag,name,assembly,place,storage,quantity,drawing number\n"
               "417,Axlebox cover,Running gear,Bogie 1 / left,Rack B,4,SECRET-7\n"
               "424,Brake pull lever,Brake,,Rack B,,\n"
               "431,Axlebox,Running gear,,Rack B,,\n"
               "438,Brake block,Brake,,Rack B,,\n";
        REQUIRE(ran({"parts", "import", (scratch / "parts.csv").string()}).status == 0);
        card.tag_shot("DCIM/101AAAAA/AAAA0001.JPG", "PET-00417", "2026:03:20 09:00:00");
        card.floor("DCIM/101AAAAA/AAAA0002.JPG", "2026:03:20 09:00:10");
        REQUIRE(ran({"dump", card.text()}).status == 0);
        REQUIRE(
            ran({"path", "417", "buy", "--why", "lost a lug", "--from", "Fenny Foundry", "--price", "123.45"})
                .status == 0);
        REQUIRE(
            ran({"path", "424", "make", "--why", "bent", "--drawing", "D 12", "--material", "EN 10025 S275"})
                .status == 0);
        REQUIRE(ran({"path", "431", "repair", "--why", "worn", "--work", "bush and ream", "--hours", "37"})
                    .status == 0);
    }
    [[nodiscard]] Ran ran(std::vector<std::string> words) const {
        words.insert(words.end(), {"--book", book});
        return run_stripbook(words);
    }
    [[nodiscard]] json answer(std::vector<std::string> words) const {
        words.insert(words.end(), {"--book", book});
        return stripbook_json(words);
    }
    [[nodiscard]] std::vector<std::string> tags(std::vector<std::string> words) const {
        std::vector<std::string> found;
        const json all = answer(std::move(words));
        for (const auto& part : all.at("parts")) {
            found.push_back(part.at("tag").get<std::string>().substr(0, 9));
        }
        return found;
    }
    [[nodiscard]] std::string page(int number) const {
        const std::string text = std::to_string(number);
        return run({"pdftotext", "-layout", "-f", text, "-l", text, pdf, "-"}).out;
    }
    ScratchFolder scratch;
    std::string book = (scratch / "book").string();
    std::string pdf = book + "/reports/wanted.pdf";
    MadeCard card;
};

using Tags = std::vector<std::string>;

}  // namespace

TEST_CASE("What is outstanding is asked for, until it has come", "[line][wanted]") {
    const WantedBook b;
    CHECK(b.tags({"wanted"}) == Tags{"PET-00417", "PET-00424", "PET-00431"});
    CHECK(b.tags({"wanted", "--path", "make"}) == Tags{"PET-00424"});
    CHECK(b.tags({"wanted", "--from", "fenny foundry"}) == Tags{"PET-00417"});
    CHECK(b.answer({"wanted", "417"}).at("parts").at(0).at("quantity") == 4);
    // Repaired at home and done; received; scrapped.
    REQUIRE(b.ran({"work", "done", "431"}).status == 0);
    REQUIRE(b.ran({"path", "424", "--received", "today"}).status == 0);
    CHECK(b.tags({"wanted"}) == Tags{"PET-00417"});
    REQUIRE(b.ran({"path", "417", "scrap", "--why", "not needed"}).status == 0);
    const Ran none = b.ran({"wanted"});
    CHECK(none.status == 0);
    CHECK_THAT(none.out, Contains("nothing is wanted"));
    // By its tag one that has come can be asked for again.
    CHECK(b.tags({"wanted", "424"}) == Tags{"PET-00424"});
    const Ran undecided = b.ran({"wanted", "438"});
    CHECK(undecided.status == 2);
    CHECK_THAT(undecided.err, Contains("PET-00438") && Contains("undecided"));
    CHECK(b.ran({"wanted", "417", "--path", "buy"}).status == 2);
    CHECK(b.ran({"wanted", "--path", "hold"}).status == 2);
}

TEST_CASE("A dealer's sheet says what the part is, and nothing of the workshop's affairs", "[line][wanted]") {
    const WantedBook b;
    REQUIRE(b.ran({"hazard", "417", "asbestos", "--note", "old gasket"}).status == 0);
    REQUIRE(
        b.ran({"inspect", "417", "--finding", "missing piece", "--where", "upper lug", "--by", "Benedikta"})
            .status == 0);
    const json made = b.answer({"wanted"});
    const int pages = made.at("pages").get<int>();
    CHECK(made.at("photos") == 2);
    std::string all;
    for (int number = 1; number <= pages; ++number) {
        const std::string words = b.page(number);
        CHECK_THAT(words, Contains("For identification; not a manufacturing drawing"));
        all += words;
    }
    CHECK_THAT(all, Contains("Axlebox cover") && Contains("Bogie 1 / left") && Contains("D 12") &&
                        Contains("EN 10025 S275") && Contains("bush and ream") && Contains("upper lug") &&
                        Contains("Asbestos") && Contains("Local codes") && Contains("Your offer"));
    all += run({"qpdf", "--json", b.pdf}).out + run({"pdfinfo", "-meta", b.pdf}).out;
    for (const char* own :
         {"Rack B", "SECRET-7", "Fenny Foundry", "123.45", "lost a lug", "37 h", "Benedikta"}) {
        INFO(own);
        CHECK(all.find(own) == std::string::npos);
    }
    CHECK(run({"qpdf", "--check", b.pdf}).status == 0);
}

TEST_CASE("The list before several sheets leads to their pages", "[line][wanted]") {
    const WantedBook b;
    REQUIRE(b.ran({"wanted"}).status == 0);
    const std::string list = b.page(1);
    int checked = 0;
    const std::regex row(R"((PET-\d{5}-\S)\s.*\s(\d+)\s+(\d+)\n)");
    for (std::sregex_iterator it(list.begin(), list.end(), row), end; it != end; ++it, ++checked) {
        const std::string words = b.page(std::stoi((*it)[3]));
        CHECK_THAT(words, Contains("Our number") && Contains((*it)[1].str()));
    }
    CHECK(checked == 3);
    // One part needs no list.
    REQUIRE(b.ran({"wanted", "417", "--paper", "letter"}).status == 0);
    CHECK_THAT(b.page(1), Contains("To buy") && Contains("Our number"));
    CHECK_THAT(run({"pdfinfo", b.pdf}).out, Contains("612 x 792"));
}
