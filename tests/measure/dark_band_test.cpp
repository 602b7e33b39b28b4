// The outline of a pale part around its shadow.
#include "measure/dark_band.h"

#include <catch2/catch.hpp>

#include "drawn_outline.h"

using namespace stripbook::measure;

namespace {

constexpr double broken_px = 2;

// A part from (100, 100) to (400, 500) px on pale ground, a shadow so wide beside its right side.
cv::Mat3b picture_of(float part, int shadow_px, float shadow) {
    cv::Mat1f grey(620, 560, 192.F);
    grey(cv::Rect(100, 100, 300, 400)) = part;
    grey(cv::Rect(400, 100, shadow_px, 400)) = shadow;
    return drawn_outline::grainy(grey, 3);
}

// Of an outline around part and shadow.
double share_of(const cv::Mat3b& picture, int shadow_px, const RimOfFoot& rim_of_foot = {}) {
    const double right = 399.5 + shadow_px;
    const auto points = drawn_outline::along({{99.5, 99.5}, {right, 99.5}, {right, 499.5}, {99.5, 499.5}});
    return dark_band_share(picture, {broken_px, rim_of_foot}, points);
}

// The right side's part of the outline.
double right_side(int shadow_px) {
    return 400.0 / (2 * (300 + shadow_px) + 2 * 400);
}

}  // namespace

TEST_CASE("A wide shadow inside the outline of a pale part is told", "[measure]") {
    const int shadow_px = GENERATE(12, 18, 28);
    INFO(shadow_px << " px of shadow");
    CHECK(share_of(picture_of(183, shadow_px, 135), shadow_px) == Approx(right_side(shadow_px)).margin(0.03));
}

TEST_CASE("What is no shadow of a pale part is no dark band", "[measure]") {
    CHECK(share_of(picture_of(183, 0, 135), 0) == 0);
    // A broken edge, and what is darker than its shadow.
    CHECK(share_of(picture_of(183, 3, 135), 3) == 0);
    CHECK(share_of(picture_of(70, 18, 110), 18) == 0);
    // A wall that is as wide as the part's height has it.
    const RimOfFoot wall = [](cv::Point2d foot) { return foot - cv::Point2d(20, 0); };
    CHECK(share_of(picture_of(183, 18, 135), 18, wall) < 0.01);
}
