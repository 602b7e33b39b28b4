#include "print/tag_pack.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "number/code_word.h"
#include "number/marker_layout.h"
#include "print/outside_tools.h"
#include "print/printed_codes.h"
#include "scratch_folder.h"

using namespace stripbook;
using namespace stripbook::test;
using number::TagLayout;
using print::TagToPrint;

namespace {

constexpr int dpi = 600;
// What the specification asks of every drawn position.
constexpr double tolerance_mm = 0.05;

number::TagNumber pet(int serial) {
    return {number::BookCode::from_typed("PET"), serial};
}

book::PrintOrder order_on(const std::string& paper, book::TagSize size, bool fold = false) {
    book::PrintOrder order;
    order.paper = paper;
    order.size = size;
    order.fold = fold;
    return order;
}

std::filesystem::path written(const ScratchFolder& scratch, const print::Pack& pack) {
    const auto file = scratch / "pack.pdf";
    write_file(file, pack.bytes);
    return file;
}

// "Page    1 size: 841.89 x 595.276 pts" as pdfinfo says it, in mm.
cv::Size2d page_size_mm(const std::filesystem::path& pdf, int page) {
    const std::string number = std::to_string(page);
    const auto answer = run_tool({"pdfinfo", "-f", number, "-l", number, pdf.string()});
    const auto at = answer.output.find("size:");
    REQUIRE(at != std::string::npos);
    double width = 0;
    double height = 0;
    REQUIRE(std::sscanf(answer.output.c_str() + at, "size: %lf x %lf", &width, &height) == 2);
    return {width * 25.4 / 72, height * 25.4 / 72};
}

// The tag's top-left corner and the size of a printed millimetre, from its fiducial 0 and 2.
struct TagOnPage {
    cv::Point2d corner_mm;
    double scale = 1;
};

// Checks every fiducial of one tag on the page against the layout; returns where the tag lies.
TagOnPage check_tag(const std::vector<SeenFiducial>& seen, const number::TagNumber& tag, double scale,
                    std::size_t first) {
    const auto identities = number::identities_of(tag);
    TagOnPage place{{}, scale};
    for (std::size_t i = 0; i < 4; ++i) {
        const SeenFiducial& fiducial = seen[first + i];
        INFO(tag.text() << " corner " << i);
        CHECK(fiducial.identity == identities[i]);
        CHECK(fiducial.family == "tag36h11");
        const auto& centre = TagLayout::fiducial_centres[i];
        if (i == 0) {
            place.corner_mm = fiducial.centre_mm() - cv::Point2d(centre.x, centre.y) * scale;
        }
        // The black square's corners, beginning at the fiducial's own top left: turned clockwise by i
        // quarters that is i corners on from the page's top left.
        const double h = TagLayout::fiducial_side / 2;
        const std::array<cv::Point2d, 4> square{{{-h, -h}, {h, -h}, {h, h}, {-h, h}}};
        for (std::size_t c = 0; c < 4; ++c) {
            const cv::Point2d drawn =
                place.corner_mm + (cv::Point2d(centre.x, centre.y) + square[(c + i) % 4]) * scale;
            CHECK(std::abs(fiducial.corners_mm[c].x - drawn.x) < tolerance_mm);
            CHECK(std::abs(fiducial.corners_mm[c].y - drawn.y) < tolerance_mm);
        }
    }
    return place;
}

// Each tag's four fiducials, corner 0 to 3. Tags share identities, so the four must also lie together.
std::vector<SeenFiducial> sorted_by_tag(const std::vector<SeenFiducial>& seen,
                                        const std::vector<number::TagNumber>& tags, double scale) {
    const auto near = [&](int identity, cv::Point2d at) -> const SeenFiducial* {
        for (const auto& fiducial : seen) {
            if (fiducial.identity == identity && cv::norm(fiducial.centre_mm() - at) < 1) {
                return &fiducial;
            }
        }
        return nullptr;
    };
    std::vector<SeenFiducial> out;
    for (const auto& tag : tags) {
        const auto identities = number::identities_of(tag);
        for (const auto& first : seen) {
            std::vector<SeenFiducial> four;
            for (std::size_t i = 0; i < 4 && first.identity == identities[0]; ++i) {
                const auto& from = TagLayout::fiducial_centres[0];
                const auto& to = TagLayout::fiducial_centres[i];
                const auto* one = near(identities[i],
                                       first.centre_mm() + cv::Point2d(to.x - from.x, to.y - from.y) * scale);
                if (one != nullptr) {
                    four.push_back(*one);
                }
            }
            if (four.size() == 4) {
                out.insert(out.end(), four.begin(), four.end());
                break;
            }
        }
    }
    return out;
}

// White that the layout asks for, on the raster: around every fiducial and the QR code.
void check_quiet_zones(const cv::Mat& page, const TagOnPage& place) {
    const auto ring_is_white = [&](number::PointMm centre, double inner, double outer) {
        const cv::Point2d middle = place.corner_mm + cv::Point2d(centre.x, centre.y) * place.scale;
        const double i = inner * place.scale + 0.08;  // a raster's pixel and its soft edge
        const double o = outer * place.scale - 0.04;
        int dark = dark_pixels(page, dpi, {middle.x - o, middle.y - o, 2 * o, o - i});
        dark += dark_pixels(page, dpi, {middle.x - o, middle.y + i, 2 * o, o - i});
        dark += dark_pixels(page, dpi, {middle.x - o, middle.y - i, o - i, 2 * i});
        dark += dark_pixels(page, dpi, {middle.x + i, middle.y - i, o - i, 2 * i});
        return dark == 0;
    };
    for (const auto& centre : TagLayout::fiducial_centres) {
        CHECK(ring_is_white(centre, TagLayout::fiducial_side / 2,
                            TagLayout::fiducial_side / 2 + TagLayout::fiducial_quiet));
    }
    CHECK(ring_is_white(TagLayout::qr_centre, TagLayout::qr_side / 2,
                        TagLayout::qr_side / 2 + TagLayout::qr_quiet));
}

}  // namespace

TEST_CASE("Printed tags carry the specified codes in the specified places", "[print][slow]") {
    struct Case {
        const char* paper;
        book::TagSize size;
        bool fold;
        int on_a_page;
        cv::Size2d page_mm;
    };
    // ISO 216 A4 and ANSI letter; how many fit is arithmetic: six of 120 x 60 in 287 x 200 lying.
    const auto c = GENERATE(Case{"a4", book::TagSize::large, false, 6, {297, 210}},
                            Case{"letter", book::TagSize::large, false, 6, {279.4, 215.9}},
                            Case{"a4", book::TagSize::small, false, 15, {297, 210}},
                            Case{"letter", book::TagSize::small, true, 6, {215.9, 279.4}},
                            Case{"roll", book::TagSize::large, false, 1, {120, 60}},
                            Case{"roll", book::TagSize::small, true, 1, {72, 72}});
    INFO(c.paper << (c.size == book::TagSize::small ? " small" : " large") << (c.fold ? " fold" : ""));
    const ScratchFolder scratch;
    const double scale = c.size == book::TagSize::small ? 0.6 : 1;
    std::vector<TagToPrint> tags;
    std::vector<number::TagNumber> numbers;
    for (int i = 0; i < c.on_a_page; ++i) {
        numbers.push_back(pet(417 + 7 * i));
        tags.push_back({numbers.back(), i % 2 == 0 ? "Axlebox cover" : "", ""});
    }
    const auto order = order_on(c.paper, c.size, c.fold);
    const auto file = written(scratch, print::tag_pack(tags, order, {"2026-11-25", "test"}));
    CHECK(page_count(file) == (order.paper == "roll" ? 1 : 2));  // with the page of instructions
    const auto size = page_size_mm(file, 1);
    CHECK(size.width == Approx(c.page_mm.width).margin(0.01));
    CHECK(size.height == Approx(c.page_mm.height).margin(0.01));

    const cv::Mat page = pages_of(file, dpi, 1).front();
    const auto seen = fiducials_on(page, dpi);
    CHECK(seen.size() == static_cast<std::size_t>(4 * c.on_a_page * (c.fold ? 2 : 1)));
    const auto sorted = sorted_by_tag(seen, numbers, scale);
    REQUIRE(sorted.size() == 4 * numbers.size());
    for (std::size_t i = 0; i < numbers.size(); ++i) {
        const TagOnPage place = check_tag(sorted, numbers[i], scale, 4 * i);
        check_quiet_zones(page, place);
        if (order.paper == "roll") {
            // The page is the tag: its face begins in the page's corner (folded: at the fold, or above it).
            CHECK(std::abs(place.corner_mm.x) < tolerance_mm);
            CHECK(std::abs(std::remainder(place.corner_mm.y, 60 * scale)) < tolerance_mm);
        }
        CHECK(qr_codes_in(page, dpi, {place.corner_mm.x, place.corner_mm.y, 120 * scale, 60 * scale}) ==
              std::vector<std::string>{numbers[i].text()});
    }
}

TEST_CASE("A folded tag's faces meet at the fold, both upright, with one hole in the same place", "[print]") {
    const ScratchFolder scratch;
    const auto order = order_on("roll", book::TagSize::large, true);
    const auto file = written(scratch, print::tag_pack({{pet(417), "", ""}}, order, {"2026-11-25", "test"}));
    const auto seen = fiducials_on(pages_of(file, dpi, 1).front(), dpi);
    REQUIRE(seen.size() == 8);
    const auto identities = number::identities_of(pet(417));
    for (std::size_t i = 0; i < 4; ++i) {
        std::vector<cv::Point2d> at;
        for (const auto& fiducial : seen) {
            if (fiducial.identity == identities[i]) {
                at.push_back(fiducial.centre_mm());
            }
        }
        REQUIRE(at.size() == 2);
        // Folded over the line at y = 60 and flipped about the long side, the upper face stands upright.
        CHECK(at[0].x == Approx(at[1].x).margin(tolerance_mm));
        CHECK(std::abs(at[0].y - at[1].y) == Approx(60).margin(tolerance_mm));
    }
}

TEST_CASE("No name, however long or strange, comes near the codes", "[print]") {
    const ScratchFolder scratch;
    const std::string wide(300, 'W');
    std::string accents;
    for (int i = 0; i < 300; ++i) {
        accents += "Å";
    }
    const std::vector<std::pair<std::string, std::string>> names{
        {wide, wide},
        {accents, accents},
        {"\"quoted\" 'twice' <b>&amp;</b>", "5\" pipe / left"},
        {"صمام الوقود", "المحرك"},
        {"🔧🔩", "🚂"},
        {"Κιβώτιο ταχυτήτων", "Тележка 1, левая сторона, наружный конец"},
    };
    const auto size = GENERATE(book::TagSize::large, book::TagSize::small);
    const double scale = size == book::TagSize::small ? 0.6 : 1;
    std::vector<TagToPrint> tags;
    std::vector<number::TagNumber> numbers;
    for (std::size_t i = 0; i < names.size(); ++i) {
        numbers.push_back(pet(100 + static_cast<int>(i)));
        tags.push_back({numbers.back(), names[i].first, names[i].second});
    }
    const auto pack = print::tag_pack(tags, order_on("a4", size), {"2026-11-25", "test"});
    const auto file = written(scratch, pack);
    const cv::Mat page = pages_of(file, dpi, 1).front();
    const auto sorted = sorted_by_tag(fiducials_on(page, dpi), numbers, scale);
    REQUIRE(sorted.size() == 24);
    for (std::size_t i = 0; i < numbers.size(); ++i) {
        INFO(names[i].first);
        const TagOnPage place = check_tag(sorted, numbers[i], scale, 4 * i);
        check_quiet_zones(page, place);
        // Nothing right of the text area and below it, beside the fiducials.
        const auto white = [&](double x, double y, double width, double height) {
            return dark_pixels(page, dpi,
                               {place.corner_mm.x + x * scale, place.corner_mm.y + y * scale, width * scale,
                                height * scale}) == 0;
        };
        CHECK(white(98.3, 21, 20, 18));
        CHECK(white(66, 40.3, 32, 5));
    }
    // Arabic and emoji are left to the pen, and that is said: name and place of two tags.
    CHECK(pack.remarks.size() == 4);
    CHECK_THAT(pack.remarks[0], Catch::Contains("PET-00103-") && Catch::Contains("in Arabic script") &&
                                    Catch::Contains("by hand"));
    const std::string words = words_of(file, 1);
    CHECK_THAT(words, Catch::Contains("Κιβώτιο ταχυτήτων") && Catch::Contains("Тележка") &&
                          Catch::Contains("\"quoted\"") && Catch::Contains("…"));
}

TEST_CASE("Stage cards show their word and the same fiducial twice", "[print]") {
    const ScratchFolder scratch;
    const auto paper = GENERATE("a4", "letter");
    const auto file = written(scratch, print::stage_card_pack(paper, {"2026-11-25", "test"}));
    const auto seen = fiducials_on(pages_of(file, dpi, 1).front(), dpi);
    REQUIRE(seen.size() == 14);
    const std::string words = words_of(file, 1);
    for (int identity = 28; identity <= 34; ++identity) {
        std::vector<cv::Point2d> at;
        for (const auto& fiducial : seen) {
            if (fiducial.identity == identity && fiducial.family == "tag25h9") {
                at.push_back(fiducial.centre_mm());
                // Upright: its own top left is the page's.
                CHECK(fiducial.corners_mm[0].x < fiducial.corners_mm[1].x - 13);
                CHECK(fiducial.corners_mm[0].y < fiducial.corners_mm[3].y - 13);
            }
        }
        REQUIRE(at.size() == 2);
        const cv::Point2d apart = at[0].y < at[1].y ? at[1] - at[0] : at[0] - at[1];
        CHECK(apart.x == Approx(85.6 - 24).margin(tolerance_mm));
        CHECK(apart.y == Approx(53.98 - 24).margin(tolerance_mm));
        CHECK_THAT(words, Catch::Contains(std::string(*number::stage_of_identity(identity))));
    }
}

TEST_CASE("The page of instructions says what a workshop must know", "[print]") {
    const ScratchFolder scratch;
    const auto order = order_on("a4", book::TagSize::large);
    const auto file = written(scratch, print::tag_pack({{pet(1), "", ""}}, order, {"2026-11-25", "test"}));
    const std::string words = words_of(file, 2);
    for (const char* needed :
         {"100 %", "no scaling", "Tag first, then details", "square on", "several times less sure",
          "sharp edges", "moves", "lifted", "Springs under load", "pressure", "Local codes", "blasting"}) {
        INFO(needed);
        CHECK_THAT(words, Catch::Contains(needed));
    }
    // CIPA DCG-001: 26 mm on a 12 MP picture (5040 px across its diagonal): 5040 * 26 / 43.27 = 3029 px, so
    // 1 px/mm at 3.0 m.
    CHECK_THAT(words, Catch::Contains("3.0 m"));
    CHECK(run_tool({"qpdf", "--check", file.string()}).status == 0);
    const auto fonts = run_tool({"pdffonts", file.string()}).output;
    CHECK_THAT(fonts, Catch::Contains("DejaVuSans") && !Catch::Contains("no  no"));
    // The viewer is asked not to scale.
    CHECK_THAT(run_tool({"qpdf", "--qdf", "--object-streams=disable", file.string(), "-"}).output,
               Catch::Contains("/PrintScaling /None"));
}
