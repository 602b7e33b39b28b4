// Reports of an assembly and of the whole job, looked at with poppler, qpdf and Apache PDFBox.
#include "print/job_report.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <map>
#include <regex>

#include "book/hazards.h"
#include "book/part_path.h"
#include "book/settings.h"
#include "errors.h"
#include "print/outside_tools.h"
#include "print/sample_book.h"

using namespace stripbook;
using Catch::Contains;
using test::run_tool;

namespace {

book::Part part_of(int number, const std::string& name, const std::string& assembly) {
    book::Part part(number::TagNumber(number::BookCode::from_typed("PET"), number));
    part.name = name;
    part.assembly = assembly;
    return part;
}

// Eleven parts: in two assemblies, one of them with others within, and one that nobody has placed.
class Job {
  public:
    Job() {
        for (int axle = 1; axle <= 4; ++axle) {
            for (int side = 0; side < 2; ++side) {
                book.add_part(part_of(axle * 10 + side, "Axlebox spring",
                                      "Running gear / Axle " + std::to_string(axle == 4 ? 10 : axle)));
            }
        }
        book.add_part(part_of(500, "Brake pull lever", "Brake"));
        book.add_part(part_of(501, "Bracket", ""));
        book.add_photo(test::photo_bytes(900, 600));
        book.add_photo(test::photo_bytes(600, 900), 1, part_of(500, "", "").tag);
        book.add_photo(test::photo_bytes(905, 600), 1, part_of(10, "", "").tag);
    }
    print::ReportResult write(const std::string& assembly = "", bool for_donor = false) {
        print::JobReportOptions options;
        options.report.date = "2026-11-25";
        options.report.version = "0.1.0";
        options.report.for_donor = for_donor;
        options.assembly = assembly;
        return print::write_job_report(book.book(), book.pdf, options);
    }
    test::BookWithPhotos book;
};

// The page on which each part's own report begins, from 1: the one that says where it sat.
std::map<std::string, int> first_pages(const std::filesystem::path& pdf) {
    std::map<std::string, int> pages;
    for (int page = 1; page <= test::page_count(pdf); ++page) {
        const std::string words = test::words_of(pdf, page);
        std::smatch tag;
        if (words.find("where it sat on the machine") != std::string::npos &&
            std::regex_search(words, tag, std::regex("PET-\\d{5}-[A-Z0-9]"))) {
            pages.emplace(tag.str(), page);
        }
    }
    return pages;
}

std::size_t pages_that_say(const std::filesystem::path& pdf, const std::string& words) {
    std::size_t count = 0;
    for (int page = 1; page <= test::page_count(pdf); ++page) {
        count += static_cast<std::size_t>(test::words_of(pdf, page).find(words) != std::string::npos);
    }
    return count;
}

}  // namespace

TEST_CASE("The contents, the links and the bookmarks of a job's report lead to the right pages", "[print]") {
    Job job;
    const auto result = job.write();
    CHECK(result.remarks.empty());
    CHECK(result.photos == 3);
    CHECK(result.pages == test::page_count(job.book.pdf));
    const auto pages = first_pages(job.book.pdf);
    REQUIRE(pages.size() == 11);

    // Every row of the table of parts is a link to its part.
    std::map<int, int> links_to;
    for (const auto& link : test::links_of(job.book.pdf)) {
        ++links_to[link.to_page];
    }
    std::map<std::string, int> bookmarked;
    for (const auto& bookmark : test::bookmarks_of(job.book.pdf)) {
        const std::string tag = bookmark.words.substr(0, 11);
        if (pages.count(tag) != 0) {
            bookmarked.emplace(tag, bookmark.to_page);
        }
    }
    for (const auto& [tag, page] : pages) {
        INFO(tag);
        CHECK(links_to[page] >= 1);
        CHECK(bookmarked[tag] == page);
    }
    // "Running gear . . . . 7" and what is printed on that page's foot.
    const std::string contents =
        run_tool({"pdftotext", "-layout", "-f", "2", "-l", "2", job.book.pdf.string(), "-"}).output;
    for (const auto& [line, tag] : std::map<std::string, std::string>{{"Brake", "PET-00500"},
                                                                      {"Axle 1", "PET-00010"},
                                                                      {"Axle 10", "PET-00040"},
                                                                      {"No assembly told", "PET-00501"}}) {
        INFO(contents);
        std::smatch number;
        REQUIRE(std::regex_search(contents, number, std::regex(line + "[ .]+ (\\d+)\\n")));
        const auto page = std::find_if(pages.begin(), pages.end(), [&, &t = tag](const auto& entry) {
            return entry.first.rfind(t, 0) == 0;
        });
        CHECK(std::stoi(number[1]) == page->second);
        CHECK_THAT(test::words_of(job.book.pdf, page->second), Contains("page " + number[1].str()));
    }
}

TEST_CASE("A job's report is PDF/A-1b with all its fonts, and sound", "[print]") {
    Job job;
    CHECK(job.write().why_not_archival.empty());
    CHECK(test::faults_against_pdf_a(job.book.pdf).empty());
    CHECK(run_tool({"qpdf", "--check", job.book.pdf.string()}).status == 0);
    const std::string first = test::read_file(job.book.pdf);
    static_cast<void>(job.write());
    CHECK(test::read_file(job.book.pdf) == first);
}

TEST_CASE("A name outside Western letters is printed, and the report says that it is not PDF/A", "[print]") {
    Job job;
    job.book.add_part(part_of(700, "Рычаг тормоза", "Brake"));
    const auto result = job.write();
    CHECK_FALSE(result.why_not_archival.empty());
    CHECK_THAT(test::words_of(job.book.pdf), Contains("Рычаг тормоза"));
    CHECK_THAT(run_tool({"pdfinfo", "-meta", job.book.pdf.string()}).output, !Contains("pdfaid"));
    CHECK(run_tool({"qpdf", "--check", job.book.pdf.string()}).status == 0);
}

TEST_CASE("An assembly's report has its parts and those within, and no others", "[print]") {
    Job job;
    static_cast<void>(job.write("Running gear"));
    const auto pages = first_pages(job.book.pdf);
    CHECK(pages.size() == 9);
    CHECK_THAT(test::words_of(job.book.pdf), !Contains("Brake pull lever"));
    static_cast<void>(job.write("Running gear / Axle 1"));
    CHECK(first_pages(job.book.pdf).size() == 2);
    CHECK_THROWS_WITH(job.write("Bodywork"), Contains("no part lies in the assembly \"Bodywork\""));
}

TEST_CASE("A donor's job report leaves out what the workshop keeps to itself, on every page", "[print]") {
    Job job;
    auto& book = job.book.book();
    book::set_setting(book, "currency", "GBP", "Anatolia");
    book::PathChange change;
    change.path = "buy";
    change.why = "worn past the limit";
    change.price_cents = 123456;
    change.by = "Benedikta";
    book::change_path(book, test::sample_part().tag, change, "Anatolia");
    const std::vector<std::string> own{"Benedikta", "Anatolia", "1234.56", "Rack B"};
    static_cast<void>(job.write());
    const std::string all = test::words_of(job.book.pdf);
    for (const auto& word : own) {
        INFO(word);
        CHECK(all.find(word) != std::string::npos);
    }
    static_cast<void>(job.write("", true));
    const std::string told = test::words_of(job.book.pdf) +
                             run_tool({"qpdf", "--json", job.book.pdf.string()}).output +
                             run_tool({"pdfinfo", "-meta", job.book.pdf.string()}).output;
    for (const auto& word : own) {
        INFO(word);
        CHECK(told.find(word) == std::string::npos);
    }
    CHECK_THAT(told, Contains("worn past the limit") && Contains("For those who support the work"));
}

TEST_CASE("A hazard stands in the job's table, in its cautions and on its part's page", "[print]") {
    Job job;
    book::set_hazard(job.book.book(), part_of(500, "", "").tag, {"asbestos", std::nullopt, "lining"}, "Ana");
    static_cast<void>(job.write());
    CHECK(pages_that_say(job.book.pdf, "sbestos") >= 2);
    CHECK_THAT(test::words_of(job.book.pdf), Contains("lining"));
}

TEST_CASE("A report larger than one piece has every photo once, and nothing else stays on disk", "[print]") {
    Job job;
    // Noise does not compress: 40 pictures of 1378 x 1034 px are more than one piece of 24 MB.
    cv::Mat noise(1034, 1378, CV_8UC1);
    cv::randu(noise, 0, 255);
    const std::string bytes = test::jpeg_of(noise);
    const std::size_t photos = 40;
    REQUIRE(bytes.size() * photos > (24U << 20U));
    for (std::size_t i = 0; i < photos; ++i) {
        job.book.add_photo(bytes, 1, part_of(10 + static_cast<int>(i % 4) * 10, "", "").tag);
    }
    const auto result = job.write();
    CHECK(result.photos == 3 + static_cast<int>(photos));
    CHECK(test::pictures_of(job.book.pdf).size() >= 3 + photos);
    CHECK(first_pages(job.book.pdf).size() == 11);
    CHECK(test::faults_against_pdf_a(job.book.pdf).empty());
    for (const auto& entry : std::filesystem::directory_iterator(job.book.pdf.parent_path())) {
        CHECK(entry.path().filename().string().rfind(".stripbook", 0) == std::string::npos);
    }
}
