#include "print/job_front.h"

#include <catch2/catch.hpp>
#include <opencv2/imgproc.hpp>
#include <string>

#include "print/job_sections.h"
#include "print/outside_tools.h"
#include "print/report_flow.h"
#include "print/sample_part.h"
#include "scratch_folder.h"

using namespace stripbook;
using namespace stripbook::print;

namespace {

JobPart part_of(int number, const std::string& path, const std::string& stage) {
    book::Part part(number::TagNumber(number::BookCode::from_typed("PET"), number));
    part.name = "Part " + std::to_string(number);
    part.assembly = "Assembly " + std::to_string(number / 10);
    part.path = path;
    JobPart in_job(part);
    in_job.stage = stage;
    return in_job;
}

JobContent content_with(std::vector<JobPart> parts) {
    JobContent content;
    content.machine = "Petrel, inspection railcar";
    content.book_code = "PET";
    content.date = "2026-11-25";
    content.program = "stripbook 0.1.0";
    content.parts = std::move(parts);
    return content;
}

struct Front {
    explicit Front(const JobContent& content) {
        const Lettering lettering;
        PdfDocument document(lettering, {"t", "", "", "p", "2026-11-25"});
        front = draw_front(content, document, Paper::a4());
        document.save(pdf);
    }
    test::ScratchFolder folder;
    std::filesystem::path pdf = folder / "front.pdf";
    JobFront front;
};

std::size_t page_of(const JobFront& front, const std::string& title) {
    for (const auto& bookmark : front.bookmarks) {
        if (bookmark.title == title) {
            return bookmark.page;
        }
    }
    FAIL("no section " << title);
    return 0;
}

// The lengths in mm of the horizontal lines that cross `left_mm`, measured to the right from there; those
// below 5 mm are letters.
std::vector<double> bar_lengths(const cv::Mat& page, int dots_per_inch, double left_mm) {
    const double px_per_mm = dots_per_inch / 25.4;
    std::vector<double> lengths;
    bool in_line = false;
    for (int y = 0; y < page.rows; ++y) {
        int x = static_cast<int>(left_mm * px_per_mm);
        int dark = 0;
        while (x < page.cols && page.at<unsigned char>(y, x) < 140) {
            ++x;
            ++dark;
        }
        const bool line = dark / px_per_mm > 5;
        if (line && !in_line) {
            lengths.push_back(dark / px_per_mm);
        }
        in_line = line;
    }
    return lengths;
}

}  // namespace

TEST_CASE("The bars of the progress chart are as long as their parts are many", "[print]") {
    std::vector<JobPart> parts;
    for (int i = 0; i < 8; ++i) {
        parts.push_back(part_of(100 + i, "repair", i < 5 ? "as-removed" : "cleaned"));
    }
    for (int i = 0; i < 4; ++i) {
        parts.push_back(part_of(200 + i, "buy", "as-removed"));
    }
    parts.push_back(part_of(300, "scrap", "as-removed"));
    const Front drawn(content_with(parts));
    const auto page = page_of(drawn.front, job_section::progress);
    const std::string words = test::words_of(drawn.pdf, static_cast<int>(page) + 1);
    CHECK_THAT(words, Catch::Contains("the 13 parts") && Catch::Contains("as-removed: 10") &&
                          Catch::Contains("cleaned: 3") && Catch::Contains("refitted: 0"));
    for (const char* path : book::path_words) {
        CHECK_THAT(words, Catch::Contains(path));
    }
    constexpr int dots_per_inch = 300;
    const auto pages = test::pages_of(drawn.pdf, dots_per_inch, static_cast<int>(page) + 1);
    // Bars begin 22 mm right of the margin; each has an upper and a lower edge: repair, buy, scrap. Before
    // them comes the rule of the running head, after them those of the tables.
    const auto lengths = bar_lengths(pages.back(), dots_per_inch, ReportFlow::margin_left + 22.4);
    REQUIRE(lengths.size() >= 7);
    const double full = lengths[1];
    CHECK(full > 100);
    CHECK(lengths[3] / full == Approx(4.0 / 8).margin(0.01));
    CHECK(lengths[5] / full == Approx(1.0 / 8).margin(0.01));
}

TEST_CASE("The pages before the parts are as many whatever the page numbers are", "[print]") {
    std::vector<JobPart> parts;
    for (int i = 0; i < 300; ++i) {
        parts.push_back(part_of(i + 1, "undecided", ""));
    }
    auto content = content_with(parts);
    const Front before(content);
    for (std::size_t i = 0; i < content.parts.size(); ++i) {
        content.parts[i].page = 1000 + 10 * i;
    }
    for (const auto& bookmark : before.front.bookmarks) {
        content.section_pages[bookmark.title] = bookmark.page;
    }
    const Front after(content);
    CHECK(test::page_count(before.pdf) == test::page_count(after.pdf));
    CHECK(test::page_count(after.pdf) > 8);
    // Every part's row leads to its page, beside the assemblies' and sections' lines of the contents.
    std::size_t rows = 0;
    for (const auto& part : content.parts) {
        for (const auto& link : after.front.links) {
            rows += static_cast<std::size_t>(link.to_page == part.page && link.page > 1);
        }
    }
    CHECK(rows >= content.parts.size());
    CHECK_THAT(test::words_of(after.pdf), Catch::Contains("PET-00300-") && Catch::Contains("3991"));
}

TEST_CASE("What is missing, dangerous or costly has its section, and none of them stands empty", "[print]") {
    auto content = content_with({part_of(1, "repair", "cleaned")});
    CHECK(sections_of(content) == std::vector<std::string>{job_section::progress, job_section::parts});
    content.parts[0].hazards.push_back({"asbestos", std::nullopt, "brake lining"});
    book::Completeness springs;
    springs.name = "Axlebox spring";
    springs.expected = 8;
    springs.present = 7;
    springs.short_in = {"Axle 3 / right: 1 of 2"};
    content.completeness.push_back(springs);
    book::AssemblySum sum;
    sum.assembly = "Running gear";
    sum.parts = 1;
    sum.hours_planned = 12;
    sum.price_cents = 123450;
    content.sums.push_back(sum);
    content.with_costs = true;
    content.currency = "GBP";
    const Front drawn(content);
    const std::string words = test::words_of(drawn.pdf);
    CHECK_THAT(words, Catch::Contains("1 missing") && Catch::Contains("Axle 3 / right") &&
                          Catch::Contains("brake lining") && Catch::Contains("1234.50 GBP") &&
                          Catch::Contains("ocal codes"));
    CHECK(drawn.front.remarks.empty());
    content.with_costs = false;
    CHECK_THAT(test::words_of(Front(content).pdf), !Catch::Contains("1234.50"));
}
