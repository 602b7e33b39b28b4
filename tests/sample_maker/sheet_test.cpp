#include "sample_maker/sheet.h"

#include <catch2/catch.hpp>

#include "errors.h"

using namespace stripbook::sample_maker;

TEST_CASE("An edge inside a pixel darkens it by the share it covers", "[sample_maker]") {
    Sheet sheet(10, 10, 1);
    sheet.ink_rectangle({2.25, 3.5, 4, 2});  // x 2.25 to 6.25, y 3.5 to 5.5
    const cv::Mat1b& picture = sheet.picture();
    const auto ink = [&](int x, int y) { return (255 - picture(y, x)) / 255.0; };
    CHECK(ink(4, 4) == Approx(1));
    CHECK(ink(2, 4) == Approx(0.75).margin(0.003));
    CHECK(ink(6, 4) == Approx(0.25).margin(0.003));
    CHECK(ink(4, 3) == Approx(0.5).margin(0.003));
    CHECK(ink(2, 3) == Approx(0.375).margin(0.003));
    CHECK(ink(1, 4) == 0);
    CHECK(ink(7, 4) == 0);
}

TEST_CASE("Black modules side by side leave no seam, whatever the scale", "[sample_maker]") {
    for (const double px_per_mm : {3.0, 3.7, 1.13, 10.01}) {
        Sheet sheet(20, 20, px_per_mm);
        sheet.ink_modules(Modules(8, 8, uchar{1}), {10, 10}, 16);
        const int from = static_cast<int>(std::ceil(2 * px_per_mm)) + 1;
        const int to = static_cast<int>(18 * px_per_mm) - 1;
        double most = 0;
        cv::minMaxLoc(sheet.picture()(cv::Rect(from, from, to - from, to - from)), nullptr, &most);
        CAPTURE(px_per_mm);
        CHECK(most <= 2);
    }
}

TEST_CASE("Text stays in its box and is there", "[sample_maker]") {
    Sheet sheet(60, 30, 4);
    sheet.ink_text("PET-00417-D \xc3\xa9", {10, 10, 40, 8});
    cv::Mat1b outside = sheet.picture().clone();
    const cv::Rect box(10 * 4 - 2, 10 * 4 - 2, 40 * 4 + 4, 8 * 4 + 4);
    CHECK(cv::countNonZero(outside(box) < 128) > 200);
    outside(box) = 255;
    CHECK(cv::countNonZero(outside < 255) == 0);
}

TEST_CASE("A sheet that cannot be drawn is refused", "[sample_maker]") {
    CHECK_THROWS_AS(Sheet(0, 10, 1), stripbook::WrongUse);
    CHECK_THROWS_AS(Sheet(10, 10, -1), stripbook::WrongUse);
    CHECK_THROWS_AS(Sheet(10000, 10000, 100), stripbook::WrongUse);
    CHECK_THROWS_AS(Sheet(std::nan(""), 10, 1), stripbook::WrongUse);
}
