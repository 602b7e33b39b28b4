// An outline along the outer border of a narrow shadow beside the part.
#include "measure/shadow_line.h"

#include <catch2/catch.hpp>

#include "drawn_outline.h"

using namespace stripbook::measure;

namespace {

constexpr double broken_px = 3;
constexpr double part_ends_x = 399.5;

// A part from (100, 100) to (400, 500) px. On its right side a dark line so wide lies beside it, then a
// shadow that fades within 12 px, as grainy as a camera shows it.
cv::Mat3b picture_of(int line_px) {
    cv::Mat1f grey(620, 560, 155.F);
    grey(cv::Rect(100, 100, 300, 400)) = 132.F;
    for (int k = 0; k < line_px; ++k) {
        grey(cv::Rect(400 + k, 100, 1, 400)) = 92.F;
    }
    constexpr int fades_px = 12;
    for (int k = 0; k < fades_px; ++k) {
        grey(cv::Rect(400 + line_px + k, 100, 1, 400)) = 105.F + 4.F * static_cast<float>(k);
    }
    return drawn_outline::grainy(grey, 6);
}

// Around the part, on the right side at this x.
std::vector<EdgePoint> outline_with_right_side_at(double x) {
    return drawn_outline::along({{99.5, 99.5}, {x, 99.5}, {x, 499.5}, {99.5, 499.5}});
}

struct Marked {
    double right_side = 0;  // share of its points, clear of the corners
    double elsewhere = 0;
};

Marked marked(const std::vector<EdgePoint>& points) {
    double right = 0;
    double right_marked = 0;
    double other = 0;
    double other_marked = 0;
    for (const auto& point : points) {
        const bool on_right = point.px.x > part_ends_x - 1;
        const bool clear = point.px.y > 140 && point.px.y < 460;
        right += on_right && clear ? 1 : 0;
        right_marked += on_right && clear && point.aside_px < 0 ? 1 : 0;
        other += point.px.x < 370 ? 1 : 0;
        other_marked += point.px.x < 370 && point.aside_px != 0 ? 1 : 0;
    }
    return {right_marked / right, other_marked / other};
}

}  // namespace

TEST_CASE("An outline on the outer border of a narrow shadow is told, and taken half the way back",
          "[measure]") {
    constexpr int line_px = 6;
    auto points = outline_with_right_side_at(part_ends_x + line_px);
    mark_shadow_line(picture_of(line_px), {broken_px, nullptr}, points);
    const Marked share = marked(points);
    CHECK(share.right_side > 0.95);
    CHECK(share.elsewhere == 0);

    OutlineEdge edge;
    edge.points = points;
    const auto moved = moved_aside(edge, 1);
    for (const auto& point : moved.points) {
        if (point.aside_px != 0 && point.px.y > 140 && point.px.y < 460) {
            REQUIRE(point.px.x == Approx(part_ends_x + line_px / 2.0).margin(0.6));
        }
    }
}

TEST_CASE("A dark line that may be the part's own is left as it is", "[measure]") {
    SECTION("no wider than a broken edge at its widest") {
        constexpr int line_px = 4;
        auto points = outline_with_right_side_at(part_ends_x + line_px);
        mark_shadow_line(picture_of(line_px), {broken_px, nullptr}, points);
        CHECK(marked(points).right_side == 0);
    }
    SECTION("a wall turned to the camera") {
        constexpr int line_px = 6;
        auto points = outline_with_right_side_at(part_ends_x + line_px);
        const auto rim = [](cv::Point2d foot) { return foot - cv::Point2d(line_px, 0); };
        mark_shadow_line(picture_of(line_px), {broken_px, rim}, points);
        CHECK(marked(points).right_side == 0);
    }
    SECTION("an outline on the part's edge, whatever lies outside it") {
        auto points = outline_with_right_side_at(part_ends_x);
        mark_shadow_line(picture_of(6), {broken_px, nullptr}, points);
        CHECK(marked(points).right_side == 0);
    }
    SECTION("a stain inside the part's edge, its border not straight") {
        cv::Mat3b picture(620, 560, cv::Vec3b::all(190));
        picture(cv::Rect(100, 100, 300, 400)) = cv::Vec3b::all(132);
        for (int y = 150; y < 450; y += 12) {
            const int wide = 4 + y / 12 % 3 * 3;
            picture(cv::Rect(400 - wide, y, wide, 12)) = cv::Vec3b::all(92);
        }
        cv::GaussianBlur(picture, picture, {}, 0.8);
        auto points = outline_with_right_side_at(part_ends_x);
        mark_shadow_line(picture, {broken_px, nullptr}, points);
        CHECK(marked(points).right_side == 0);
    }
}
