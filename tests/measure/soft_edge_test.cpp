// An outline along the soft border of a broad shadow. Truth: drawn.
#include "measure/soft_edge.h"

#include <catch2/catch.hpp>

#include "drawn_outline.h"
#include "measure/faint_edge.h"

using namespace stripbook::measure;

namespace {

constexpr int fades_px = 40;

// A part from (100, 100) to (400, 500) px a little darker than the ground; beside its right side a shadow as
// bright as it, 150 px wide, that fades.
cv::Mat3b picture_with_shadow() {
    cv::Mat1f grey(620, 700, 198.F);
    grey(cv::Rect(100, 100, 300, 400)) = 150.F;
    constexpr int dark_px = 150 - fades_px;
    grey(cv::Rect(400, 100, dark_px, 400)) = 150.F;
    for (int k = 0; k < fades_px; ++k) {
        grey(cv::Rect(400 + dark_px + k, 100, 1, 400)) = 150.F + 1.2F * static_cast<float>(k);
    }
    return drawn_outline::grainy(grey, 4);
}

OutlineEdge outline_with_right_side_at(double x) {
    OutlineEdge edge;
    edge.points = drawn_outline::along({{99.5, 99.5}, {x, 99.5}, {x, 499.5}, {99.5, 499.5}});
    edge.usual_contrast = 20;
    return edge;
}

}  // namespace

TEST_CASE("The part of an outline that runs along a shadow's soft border is told", "[measure]") {
    constexpr double middle_of_border = 550 - fades_px / 2.0;
    const auto edge = outline_with_right_side_at(middle_of_border);
    // The right side, and the shadow's sharp sides are none of it.
    const double right = 400 / (2 * 400 + 2 * (middle_of_border - 99.5));
    CHECK(soft_share(picture_with_shadow(), edge) == Approx(right).margin(0.04));
}

TEST_CASE("Beside a shadow the part's own edge is not soft", "[measure]") {
    cv::Mat3b picture = picture_with_shadow();
    picture(cv::Rect(100, 100, 300, 400)) -= cv::Scalar::all(40);
    CHECK(soft_share(picture, outline_with_right_side_at(399.5)) < 0.03);
}

TEST_CASE("Where the part plainly differs from the ground no border is called soft", "[measure]") {
    auto edge = outline_with_right_side_at(530);
    edge.usual_contrast = plain_contrast;
    CHECK(soft_share(picture_with_shadow(), edge) == 0);
}
