// The truth about the joined documents comes from poppler, qpdf's own checker and Apache PDFBox's validator.
#include "print/joined_pdf.h"

#include <catch2/catch.hpp>
#include <filesystem>
#include <regex>

#include "errors.h"
#include "print/outside_tools.h"
#include "print/report_flow.h"
#include "print/sample_part.h"
#include "scratch_folder.h"

using namespace stripbook;
using namespace stripbook::print;
using test::run_tool;

namespace {

const DocumentFacts facts{"Condition report: Brake & <gear>", "Fenny Junction Würkshop", "Petrel (PET)",
                          "stripbook 0.1.0", "2026-11-25"};

// Pages, each with its own word, in pieces of the given sizes.
class Pieces {
  public:
    Pieces(const std::vector<int>& sizes, const std::string& words) {
        int page = 0;
        for (const int size : sizes) {
            PdfDocument document(lettering_, facts);
            for (int i = 0; i < size; ++i) {
                document.add_sheet(210, 297).text(30, 40, words + " " + std::to_string(++page), type::body);
            }
            unicode |= document.uses_unicode();
            all.emplace_back(document, folder.path());
        }
    }
    test::ScratchFolder folder;
    std::vector<PdfPiece> all;
    bool unicode = false;

  private:
    Lettering lettering_;
};

}  // namespace

TEST_CASE("Pieces become one document with its pages in order", "[print]") {
    const Pieces pieces({2, 1, 3}, "Leaf");
    const auto file = pieces.folder / "joined.pdf";
    write_joined(pieces.all, {facts, {}, {}, 1, true}, file);
    REQUIRE(test::page_count(file) == 6);
    for (int page = 1; page <= 6; ++page) {
        CHECK_THAT(test::words_of(file, page), Catch::Contains("Leaf " + std::to_string(page)));
    }
    CHECK(run_tool({"qpdf", "--check", file.string()}).status == 0);
    // Nothing but the document stays in the folder.
    CHECK(std::distance(std::filesystem::directory_iterator(pieces.folder.path()), {}) == 1);
}

TEST_CASE("Bookmarks form the tree that was planned, and each leads to its page", "[print]") {
    const Pieces pieces({2, 2}, "Leaf");
    const auto file = pieces.folder / "joined.pdf";
    const std::vector<Bookmark> planned{{"Contents", 0, 0, 20},        {"Running gear", 0, 1, 20},
                                        {"Äxle 1 (left)", 1, 1, 20},   {"PET-00417-D", 2, 1, 60},
                                        {"Axle 2", 1, 2, 20},          {"Brake", 0, 3, 20},
                                        {"колёсная пара 轮", 1, 3, 30}};
    write_joined(pieces.all, {facts, planned, {}, 1, true}, file);
    const auto seen = test::bookmarks_of(file);
    REQUIRE(seen.size() == planned.size());
    for (std::size_t i = 0; i < planned.size(); ++i) {
        INFO(planned[i].title);
        CHECK(seen[i].words == planned[i].title);
        CHECK(seen[i].level == planned[i].level);
        CHECK(seen[i].to_page == static_cast<int>(planned[i].page) + 1);
    }
}

TEST_CASE("A link on one page leads to another", "[print]") {
    const Pieces pieces({2, 3}, "Leaf");
    const auto file = pieces.folder / "joined.pdf";
    // Around the word on page 1, of 11 pt with its foot 40 mm down; and on page 4, back to page 2.
    write_joined(pieces.all, {facts, {}, {{0, {28, 35, 60, 7}, 4, 20}, {3, {28, 35, 60, 7}, 1, 20}}, 1, true},
                 file);
    const auto links = test::links_of(file);
    REQUIRE(links.size() == 2);
    CHECK(links[0].page == 1);
    CHECK(links[0].to_page == 5);
    CHECK(links[0].words == "Leaf 1");
    CHECK(links[1].page == 4);
    CHECK(links[1].to_page == 2);
}

TEST_CASE("A joined document is PDF/A-1b, and says the same of itself in both places", "[print]") {
    const Pieces pieces({1, 2}, "Leaf");
    REQUIRE_FALSE(pieces.unicode);
    const auto file = pieces.folder / "joined.pdf";
    write_joined(pieces.all, {facts, {{"Первый", 0, 0, 20}}, {{0, {28, 35, 60, 7}, 2, 20}}, 1, true}, file);
    CHECK(test::faults_against_pdf_a(file).empty());
    const std::string info = run_tool({"pdfinfo", file.string()}).output;
    const std::string xmp = run_tool({"pdfinfo", "-meta", file.string()}).output;
    CHECK_THAT(info, Catch::Contains(facts.title) && Catch::Contains(facts.author));
    CHECK_THAT(xmp, Catch::Contains("Brake &amp; &lt;gear&gt;") && Catch::Contains(facts.author) &&
                        Catch::Contains("2026-11-25"));
}

// ISO 19005-1, 6.3.5 ff.: libharu's Unicode fonts lack what PDF/A asks of them.
TEST_CASE("A document that is not PDF/A does not call itself so", "[print]") {
    const Pieces pieces({1}, "колёсная пара");
    REQUIRE(pieces.unicode);
    const auto file = pieces.folder / "joined.pdf";
    write_joined(pieces.all, {facts, {}, {}, 1, false}, file);
    CHECK_THAT(test::words_of(file), Catch::Contains("колёсная пара"));
    CHECK_THAT(run_tool({"pdfinfo", "-meta", file.string()}).output, !Catch::Contains("pdfaid"));
    CHECK_FALSE(test::faults_against_pdf_a(file).empty());
    CHECK(run_tool({"qpdf", "--check", file.string()}).status == 0);
}

TEST_CASE("The same pieces and plan give the same bytes", "[print]") {
    const Pieces pieces({2, 1}, "Leaf");
    const Pieces again({2, 1}, "Leaf");
    write_joined(pieces.all, {facts, {{"One", 0, 0, 20}}, {}, 1, true}, pieces.folder / "a.pdf");
    write_joined(again.all, {facts, {{"One", 0, 0, 20}}, {}, 1, true}, again.folder / "b.pdf");
    CHECK(test::read_file(pieces.folder / "a.pdf") == test::read_file(again.folder / "b.pdf"));
}

// ISO 32000-1, 14.4: an array of two byte strings, the same two when a document is first written.
TEST_CASE("Every document has an identifier of its own, twice the same", "[print]") {
    const auto identifier = [](const std::filesystem::path& file) {
        const std::string trailer = run_tool({"qpdf", "--show-object=trailer", file.string()}).output;
        std::smatch found;
        REQUIRE(std::regex_search(trailer, found,
                                  std::regex("/ID \\[ ?<([0-9a-f]{32})> ?<([0-9a-f]{32})> ?\\]")));
        CHECK(found[1] == found[2]);
        return found[1].str();
    };
    const Pieces pieces({2, 1}, "Leaf");
    const Pieces others({2, 1}, "A larger leaf");
    const auto a = pieces.folder / "a.pdf";
    const auto b = pieces.folder / "b.pdf";
    const auto c = others.folder / "c.pdf";
    write_joined(pieces.all, {facts, {{"One", 0, 0, 20}}, {}, 1, true}, a);
    write_joined(pieces.all, {facts, {{"Two", 0, 0, 20}}, {}, 1, true}, b);
    write_joined(others.all, {facts, {{"One", 0, 0, 20}}, {}, 1, true}, c);
    CHECK(identifier(a) != identifier(b));
    CHECK(identifier(a) != identifier(c));
    CHECK(identifier(a).substr(0, 8) != "31415926");
}

TEST_CASE("A folder that takes no document is named", "[print]") {
    const Pieces pieces({1}, "Leaf");
    CHECK_THROWS_WITH(write_joined(pieces.all, {facts, {}, {}, 1, true}, pieces.folder / "none/joined.pdf"),
                      Catch::Contains("none") && Catch::Contains("make the folder first"));
    Lettering lettering;
    PdfDocument document(lettering, facts);
    document.add_sheet(210, 297);
    CHECK_THROWS_AS(PdfPiece(document, pieces.folder / "none"), OutsideError);
}
