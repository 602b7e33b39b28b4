#include "print/marker_pack.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <map>
#include <opencv2/imgproc.hpp>

#include "print/glue_plan.h"
#include "print/marker_face.h"
#include "print/outside_tools.h"
#include "print/printed_codes.h"
#include "scratch_folder.h"

using namespace stripbook;
using namespace stripbook::test;
using number::marker_layout;

namespace {

constexpr int dpi = 600;
constexpr double tolerance_mm = 0.05;

std::filesystem::path written(const ScratchFolder& scratch, const print::Pack& pack) {
    const auto file = scratch / "marker.pdf";
    write_file(file, pack.bytes);
    return file;
}

// The specification's own figures (tag-code.md): identity, centre, on the bench sheet.
const std::map<int, cv::Point2d> bench_centres{{4, {22, 22}},   {5, {148.5, 22}}, {6, {275, 22}},
                                               {7, {275, 105}}, {8, {275, 188}},  {9, {148.5, 188}},
                                               {10, {22, 188}}, {11, {22, 105}}};

// The dark run of a thin line crossing column `x_mm` or row: where the line lies, mm; -1: none.
double line_at(const cv::Mat& page, double from_mm, double to_mm, double other_mm, bool upright) {
    const double px_per_mm = dpi / 25.4;
    double sum = 0;
    double weight = 0;
    for (int i = cvRound(from_mm * px_per_mm); i < cvRound(to_mm * px_per_mm); ++i) {
        const int j = cvRound(other_mm * px_per_mm);
        const uchar level = upright ? page.at<uchar>(j, i) : page.at<uchar>(i, j);
        sum += (255 - level) * (i + 0.5);
        weight += 255 - level;
    }
    return weight < 100 ? -1 : sum / weight / px_per_mm;
}

}  // namespace

TEST_CASE("A bench marker is an A4 sheet with its fiducials where the specification puts them", "[print]") {
    const ScratchFolder scratch;
    const auto file = written(
        scratch, print::marker_pack(marker_layout("bench"), {3}, "a4", false, {"2026-11-25", "test"}));
    CHECK(page_count(file) == 2);
    const cv::Mat page = pages_of(file, dpi, 1).front();
    CHECK(page.cols == Approx(297 / 25.4 * dpi).margin(1));
    const auto seen = fiducials_on(page, dpi);
    REQUIRE(seen.size() == bench_centres.size());
    for (const auto& fiducial : seen) {
        INFO(fiducial.identity);
        CHECK(fiducial.family == "tag25h9");
        const cv::Point2d centre = bench_centres.at(fiducial.identity);
        const double h = 25.2 / 2;
        const std::array<cv::Point2d, 4> square{{{-h, -h}, {h, -h}, {h, h}, {-h, h}}};
        for (std::size_t c = 0; c < 4; ++c) {
            CHECK(std::abs(fiducial.corners_mm[c].x - centre.x - square[c].x) < tolerance_mm);
            CHECK(std::abs(fiducial.corners_mm[c].y - centre.y - square[c].y) < tolerance_mm);
        }
    }
    CHECK(qr_codes_in(page, dpi, {60, 5, 60, 35}) == std::vector<std::string>{"MARKER-BENCH-0003"});
    // The check lines, measured on the raster from tick to tick: docs/tag-code.md says 100.0 mm.
    const double left = line_at(page, 43, 45, 41, true);
    const double right = line_at(page, 143, 145, 41, true);
    CHECK(right - left == Approx(100).margin(tolerance_mm));
    const double top = line_at(page, 43, 45, 41, false);
    const double bottom = line_at(page, 143, 145, 41, false);
    CHECK(bottom - top == Approx(100).margin(tolerance_mm));
    // White of one module around every fiducial, four around the QR code.
    for (const auto& [identity, centre] : bench_centres) {
        const double o = 25.2 / 2 + 3.6;
        cv::Mat around = page.clone();
        const double px = dpi / 25.4;
        cv::rectangle(around,
                      cv::Rect2d((centre.x - 12.65) * px, (centre.y - 12.65) * px, 25.3 * px, 25.3 * px),
                      cv::Scalar(255), cv::FILLED);
        CHECK(dark_pixels(around, dpi, {centre.x - o, centre.y - o, 2 * o, 2 * o}) == 0);
    }
    const std::string words = words_of(file, 2);
    for (const char* needed :
         {"matt", "flat to a board", "100 %", "caliper", "stripbook markers measured bench",
          "several times less sure", "identification", "Local codes"}) {
        INFO(needed);
        CHECK_THAT(words, Catch::Contains(needed));
    }
}

TEST_CASE("Pocket markers are ISO/IEC 7810 ID-1 cards, each with its own number", "[print]") {
    const ScratchFolder scratch;
    const auto paper = GENERATE("a4", "letter");
    const auto file = written(
        scratch, print::marker_pack(marker_layout("pocket"), {7, 8}, paper, false, {"2026-11-25", "test"}));
    const cv::Mat page = pages_of(file, dpi, 1).front();
    const auto seen = fiducials_on(page, dpi);
    REQUIRE(seen.size() == 8);
    std::vector<std::string> texts;
    for (const auto& fiducial : seen) {
        if (fiducial.identity == 0) {
            // The QR code's centre lies 32.8 mm to the right of fiducial 0's (docs/tag-code.md).
            const cv::Point2d centre = fiducial.centre_mm() + cv::Point2d(32.8, 0);
            for (const auto& text : qr_codes_in(page, dpi, {centre.x - 9, centre.y - 9, 18, 18})) {
                texts.push_back(text);
            }
        }
    }
    std::sort(texts.begin(), texts.end());
    CHECK(texts == std::vector<std::string>{"MARKER-POCKET-0007", "MARKER-POCKET-0008"});
    // The two cards lie side by side and touch: every identity twice, 85.60 mm apart.
    for (int identity = 0; identity < 4; ++identity) {
        std::vector<double> xs;
        for (const auto& fiducial : seen) {
            if (fiducial.identity == identity) {
                xs.push_back(fiducial.centre_mm().x);
            }
        }
        REQUIRE(xs.size() == 2);
        CHECK(std::abs(xs[0] - xs[1]) == Approx(85.6).margin(tolerance_mm));
    }
}

TEST_CASE("A whole mat is ISO 216 A1", "[print]") {
    const ScratchFolder scratch;
    const auto file =
        written(scratch, print::marker_pack(marker_layout("mat"), {1}, "a4", false, {"2026-11-25", "test"}));
    constexpr int coarse = 150;
    const cv::Mat page = pages_of(file, coarse, 1).front();
    CHECK(page.cols == Approx(841 / 25.4 * coarse).margin(1));
    CHECK(page.rows == Approx(594 / 25.4 * coarse).margin(1));
    const auto seen = fiducials_on(page, coarse);
    REQUIRE(seen.size() == 16);
    for (const auto& fiducial : seen) {
        CHECK(fiducial.identity >= 12);
        CHECK(fiducial.identity <= 27);
    }
}

TEST_CASE("The pieces of a glued sheet put together are the sheet", "[print][slow]") {
    struct Case {
        const char* kind;
        const char* paper;
        std::size_t fiducials;
    };
    const auto c = GENERATE(Case{"mat", "a4", 16}, Case{"mat", "letter", 16}, Case{"bench", "letter", 8});
    INFO(c.kind << " on " << c.paper);
    const ScratchFolder scratch;
    const auto& layout = marker_layout(c.kind);
    const auto file =
        written(scratch, print::marker_pack(layout, {1}, c.paper, true, {"2026-11-25", "test"}));
    const auto plan = print::glue_plan(layout.width, layout.height, print::marker_items(layout),
                                       print::paper_named(c.paper));
    REQUIRE(page_count(file) == static_cast<int>(plan.tiles.size()) + 1);
    CHECK(print::marker_pieces(layout, c.paper, true) == static_cast<int>(plan.tiles.size()));
    constexpr int fine = 300;
    const auto pages = pages_of(file, fine, static_cast<int>(plan.tiles.size()));
    std::map<int, cv::Point2d> centres;
    double covered_mm2 = 0;
    for (std::size_t i = 0; i < plan.tiles.size(); ++i) {
        const auto& region = plan.tiles[i].region;
        covered_mm2 += region.width * region.height;
        // Everything lies where printers print.
        CHECK(plan.page_left + region.width + print::glue_tab_mm <= plan.paper.width - 5);
        CHECK(plan.page_top + region.height + print::glue_tab_mm <= plan.paper.height - 5);
        for (const auto& fiducial : fiducials_on(pages[i], fine)) {
            CHECK(centres.count(fiducial.identity) == 0);  // no fiducial is cut in two or drawn twice
            centres[fiducial.identity] = fiducial.centre_mm() - cv::Point2d(plan.page_left, plan.page_top) +
                                         cv::Point2d(region.x, region.y);
        }
    }
    CHECK(covered_mm2 == Approx(layout.width * layout.height));
    REQUIRE(centres.size() == c.fiducials);
    for (const auto& fiducial : layout.fiducials) {
        INFO(fiducial.identity);
        CHECK(std::abs(centres[fiducial.identity].x - fiducial.centre.x) < tolerance_mm);
        CHECK(std::abs(centres[fiducial.identity].y - fiducial.centre.y) < tolerance_mm);
    }
    CHECK_THAT(words_of(file), Catch::Contains("glue") && Catch::Contains("--sides"));
}
