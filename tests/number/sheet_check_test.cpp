#include "number/sheet_check.h"

#include <catch2/catch.hpp>

#include "errors.h"

using namespace stripbook;
using number::marker_layout;
using number::SheetMeasured;

namespace {

std::string refusal(const std::string& kind, int pieces, const SheetMeasured& measured) {
    try {
        number::questions_about(marker_layout(kind), pieces, measured);
    } catch (const WrongUse& e) {
        return e.what();
    }
    return "";
}

}  // namespace

TEST_CASE("A measured bench sheet gives its stretch and how sure that is", "[number]") {
    // Lines drawn 100.0 mm; a caliper's 0.1 mm on them (common practice, no source).
    const auto correction =
        number::correction_of(marker_layout("bench"), {99.7, 100.2, std::nullopt, number::caliper_u_mm});
    CHECK(correction.across == Approx(0.997));
    CHECK(correction.along == Approx(1.002));
    CHECK(correction.u_across == Approx(0.001));
    CHECK(
        number::questions_about(marker_layout("bench"), 1, {99.7, 100.2, std::nullopt, number::caliper_u_mm})
            .empty());
}

TEST_CASE("A line more than one per cent off is questioned, five refused", "[number]") {
    const auto questions =
        number::questions_about(marker_layout("bench"), 1, {98.9, 101.1, std::nullopt, number::caliper_u_mm});
    REQUIRE(questions.size() == 2);
    CHECK_THAT(questions[0], Catch::Contains("line across") && Catch::Contains("-1.1 %"));
    CHECK_THAT(questions[1], Catch::Contains("line along") && Catch::Contains("+1.1 %"));
    CHECK(number::questions_about(marker_layout("bench"), 1,
                                  {99.01, 100.99, std::nullopt, number::caliper_u_mm})
              .empty());
    CHECK_THAT(refusal("bench", 1, {3.94, 100, std::nullopt, number::caliper_u_mm}),
               Catch::Contains("cannot have printed as 3.9 mm"));
    CHECK_THAT(refusal("bench", 1, {100, 0, std::nullopt, number::caliper_u_mm}),
               Catch::Contains("line along"));
}

TEST_CASE("A glued mat is judged on its outer sides and diagonals", "[number]") {
    const auto& mat = marker_layout("mat");
    CHECK_THAT(refusal("mat", 15, {120, 120, std::nullopt, number::caliper_u_mm}),
               Catch::Contains("--sides"));
    // 841 x 594 (ISO 216 A1) less 4 mm at each side: 833 x 586, diagonal by Pythagoras 1018.5 mm.
    CHECK(mat.outer_width() == Approx(833));
    CHECK(mat.outer_height() == Approx(586));
    const number::OuterMeasured square{834, 586.5, 834.4, 586.7, 1019.5, 1019.9};
    CHECK(number::questions_about(mat, 15, {120.1, 120.1, square, 0.1}).empty());
    const auto correction = number::correction_of(mat, {120.1, 120.1, square, 0.1});
    CHECK(correction.across == Approx(834.2 / 833));
    CHECK(correction.along == Approx(586.6 / 586));
    CHECK(correction.u_across == Approx(0.5 / 1.41421 / 833).epsilon(1e-4));
    number::OuterMeasured askew = square;
    askew.rising = 1023.5;
    const auto questions = number::questions_about(mat, 15, {120.1, 120.1, askew, 0.1});
    REQUIRE(questions.size() == 1);
    CHECK_THAT(questions[0], Catch::Contains("diagonals") && Catch::Contains("askew"));
}

TEST_CASE("What is drawn on a sheet keeps clear of its fiducials' and its QR code's white", "[number]") {
    struct Box {
        double left, top, right, bottom;
    };
    const auto around = [](number::PointMm centre, double half) {
        return Box{centre.x - half, centre.y - half, centre.x + half, centre.y + half};
    };
    const auto touch = [](const Box& a, const Box& b) {
        return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
    };
    for (const auto& layout : number::marker_layouts()) {
        INFO(layout.kind);
        // One module of white around a 25h9 square; four around a QR code of 21 modules (ISO/IEC 18004).
        const double qr_half = layout.qr_side / 2 + 4 * layout.qr_side / 21;
        const Box qr = around(layout.qr_centre, qr_half);
        constexpr double tick = 1.5;
        const auto line_box = [&](const number::CheckLine& line) {
            return Box{line.from.x - tick, line.from.y - tick, line.to.x + tick, line.to.y + tick};
        };
        const Box across = line_box(layout.check_across);
        const Box along = line_box(layout.check_along);
        CHECK_FALSE(touch(qr, across));
        CHECK_FALSE(touch(qr, along));
        CHECK((qr.left > 0 && qr.top > 0));
        CHECK((across.right < layout.width && along.bottom < layout.height));
        for (const auto& fiducial : layout.fiducials) {
            const Box square = around(fiducial.centre, layout.fiducial_side / 2 + layout.module());
            CHECK_FALSE(touch(square, qr));
            CHECK_FALSE(touch(square, across));
            CHECK_FALSE(touch(square, along));
        }
        // Both within a 150 mm caliper (common practice, no source).
        CHECK(layout.check_across.length() <= 150);
        CHECK(layout.check_along.length() <= 150);
    }
}

TEST_CASE("A sheet's name goes into its QR code and comes back", "[number]") {
    CHECK(number::marker_sheet_text(marker_layout("bench"), 3) == "MARKER-BENCH-0003");
    const auto name = number::marker_sheet_from_text("MARKER-BENCH-0003");
    REQUIRE(name);
    CHECK(name->kind == "bench");
    CHECK(name->number == 3);
    for (const char* wrong : {"MARKER-BENCH-3", "MARKER-BENCH-00003", "MARKER-SHELF-0003",
                              "marker-bench-0003", "MARKER-BENCH-00x3", "MARKER-BENCH-0000", ""}) {
        INFO(wrong);
        CHECK_FALSE(number::marker_sheet_from_text(wrong));
    }
}
