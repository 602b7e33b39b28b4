// The outline of a dark part along the outer border of a shadow that is paler than the part.
#include "measure/pale_shadow.h"

#include <catch2/catch.hpp>

#include "drawn_outline.h"

using namespace stripbook::measure;

namespace {

constexpr double broken_px = 2;
constexpr double part_ends_x = 399.5;

// A dark part from (100, 100) to (400, 500) px on pale ground. Its right side ends in a broken edge that
// takes no light; beside it lies a shadow so wide.
cv::Mat1f greys_of(int shadow_px, float shadow = 83) {
    cv::Mat1f grey(620, 560, 150.F);
    grey(cv::Rect(100, 100, 300, 400)) = 68.F;
    grey(cv::Rect(398, 100, 2, 400)) = 48.F;
    grey(cv::Rect(400, 100, shadow_px, 400)) = shadow;
    return grey;
}

cv::Mat3b picture_of(int shadow_px, float shadow = 83) {
    return drawn_outline::grainy(greys_of(shadow_px, shadow), 3);
}

// Around the part, on the right side at this x, where the outline has that share of the usual contrast.
std::vector<EdgePoint> outline_with_right_side_at(double x, double contrast_share = 0.55) {
    auto points = drawn_outline::along({{99.5, 99.5}, {x, 99.5}, {x, 499.5}, {99.5, 499.5}});
    for (auto& point : points) {
        point.contrast_share = point.px.x > x - 1 ? contrast_share : 1;
    }
    return points;
}

struct Marked {
    double right_side = 0;  // share of its points, clear of the corners
    double elsewhere = 0;
};

Marked marked(const cv::Mat3b& picture, std::vector<EdgePoint> points, const RimOfFoot& rim_of_foot = {}) {
    mark_pale_shadow(picture, {broken_px, rim_of_foot}, points);
    double right = 0;
    double right_marked = 0;
    Marked share;
    for (const auto& point : points) {
        const bool on_right = point.px.x > part_ends_x - 1;
        const bool clear = point.px.y > 140 && point.px.y < 460;
        right += on_right && clear ? 1 : 0;
        right_marked += on_right && clear && point.aside_px < 0 ? 1 : 0;
        share.elsewhere += !on_right && point.aside_px != 0 ? 1 : 0;
    }
    share.right_side = right_marked / right;
    return share;
}

}  // namespace

TEST_CASE("A shadow paler than the part is told, and the edge taken half the way back", "[measure]") {
    const int shadow_px = GENERATE(7, 10);
    const auto outline = outline_with_right_side_at(part_ends_x + shadow_px);
    const auto picture = picture_of(shadow_px);
    const Marked share = marked(picture, outline);
    CHECK(share.right_side > 0.95);
    CHECK(share.elsewhere == 0);

    OutlineEdge edge;
    edge.points = outline;
    mark_pale_shadow(picture, {broken_px, {}}, edge.points);
    for (const auto& point : moved_aside(edge, 1).points) {
        if (point.aside_px != 0 && point.px.y > 140 && point.px.y < 460) {
            REQUIRE(point.px.x == Approx(part_ends_x + shadow_px / 2.0).margin(0.6));
        }
    }
}

TEST_CASE("A pale band that may be the part's own is no shadow", "[measure]") {
    SECTION("no wider than a broken edge at its widest") {
        CHECK(marked(picture_of(3), outline_with_right_side_at(part_ends_x + 3)).right_side == 0);
    }
    SECTION("a wall turned to camera and light") {
        const auto rim = [](cv::Point2d foot) { return foot - cv::Point2d(7, 0); };
        CHECK(marked(picture_of(7), outline_with_right_side_at(part_ends_x + 7), rim).right_side == 0);
    }
    SECTION("as clear an outline as elsewhere") {
        CHECK(marked(picture_of(7), outline_with_right_side_at(part_ends_x + 7, 0.9)).right_side == 0);
    }
    SECTION("darker than the face") {
        CHECK(marked(picture_of(7, 60), outline_with_right_side_at(part_ends_x + 7)).right_side == 0);
    }
    SECTION("getting paler from one side to the other") {
        auto greys = greys_of(7);
        for (int k = 0; k < 7; ++k) {
            greys(cv::Rect(400 + k, 100, 1, 400)) = 80.F + 7.F * static_cast<float>(k);
        }
        CHECK(
            marked(drawn_outline::grainy(greys, 3), outline_with_right_side_at(part_ends_x + 7)).right_side ==
            0);
    }
    SECTION("pale spots along the part's edge") {
        auto greys = greys_of(0);
        for (int y = 150; y < 450; y += 24) {
            greys(cv::Rect(391, y, 9, 12)) = 83.F;
        }
        CHECK(marked(drawn_outline::grainy(greys, 3), outline_with_right_side_at(part_ends_x)).right_side ==
              0);
    }
}
