// Where an outline runs along the border of the face, the broken edge beyond it in the part's shadow.
#include "measure/face_border.h"

#include <algorithm>

#include <catch2/catch.hpp>
#include <opencv2/imgproc.hpp>

#include "drawn_outline.h"

using namespace stripbook::measure;

namespace {

constexpr double broken_px = 3;

struct Greys {
    uchar ground, face, broken, shadow;
};

// A part from (100, 100) to (400, 500) px. Its right side is turned from the light: the face ends 3 px
// before the part's edge, and a shadow of 20 px lies beyond.
cv::Mat3b picture_of(const Greys& greys) {
    cv::Mat3b picture(620, 560, cv::Vec3b::all(greys.ground));
    picture(cv::Rect(100, 100, 320, 400)) = cv::Vec3b::all(greys.shadow);
    picture(cv::Rect(100, 100, 300, 400)) = cv::Vec3b::all(greys.broken);
    picture(cv::Rect(100, 100, 297, 400)) = cv::Vec3b::all(greys.face);
    cv::GaussianBlur(picture, picture, {}, 0.8);
    return picture;
}

// Around the part, on the right side at this x.
std::vector<EdgePoint> outline_with_right_side_at(double x) {
    const std::vector<cv::Point2d> corners = {{99.5, 99.5}, {x, 99.5}, {x, 499.5}, {99.5, 499.5}};
    return drawn_outline::along(corners);
}

struct Marked {
    double right_side = 0;  // share of its points, clear of the corners
    double elsewhere = 0;
};

Marked marked(const std::vector<EdgePoint>& points, double x) {
    double right = 0;
    double right_marked = 0;
    double other = 0;
    double other_marked = 0;
    for (const auto& point : points) {
        const bool on_right = point.px.x > x - 1 && point.px.y > 130 && point.px.y < 470;
        const bool clear = point.px.x < 370;
        right += on_right ? 1 : 0;
        right_marked += on_right && point.aside_px > 0 ? 1 : 0;
        other += clear ? 1 : 0;
        other_marked += clear && point.aside_px > 0 ? 1 : 0;
    }
    return {right_marked / right, other_marked / other};
}

constexpr Greys steel_on_grey{150, 135, 95, 90};
constexpr double face_ends_x = 396.5;
constexpr double part_ends_x = 399.5;

}  // namespace

TEST_CASE("An outline on the face's border with a dark broken edge beyond it is told and moved",
          "[measure]") {
    auto points = outline_with_right_side_at(face_ends_x);
    mark_face_border(picture_of(steel_on_grey), broken_px, points);
    const Marked share = marked(points, face_ends_x);
    CHECK(share.right_side > 0.99);
    CHECK(share.elsewhere == 0);

    OutlineEdge edge;
    edge.points = points;
    const auto moved = moved_aside(edge, 1);
    for (std::size_t i = 0; i < points.size(); ++i) {
        const double by = (moved.points[i].px - points[i].px).dot(points[i].outward);
        REQUIRE(by == Approx(points[i].aside_px > 0 ? broken_px / 2 : 0).margin(1e-9));
    }
}

TEST_CASE("An outline on the part's own edge is not taken for one on the face's border", "[measure]") {
    SECTION("its broken edge shows inside it, lighter than the shadow") {
        constexpr Greys lighter{150, 135, 110, 70};
        auto points = outline_with_right_side_at(part_ends_x);
        mark_face_border(picture_of(lighter), broken_px, points);
        CHECK(marked(points, part_ends_x).right_side < 0.01);
    }
    SECTION("a light part on dark ground: no broken edge is so dark") {
        constexpr Greys not_broken{40, 190, 190, 25};
        auto points = outline_with_right_side_at(part_ends_x);
        mark_face_border(picture_of(not_broken), broken_px, points);
        CHECK(marked(points, part_ends_x).right_side == 0);
        CHECK(marked(points, part_ends_x).elsewhere == 0);
    }
    SECTION("where a wall shows, or the hue told the place, nothing is marked") {
        auto points = outline_with_right_side_at(face_ends_x);
        const bool by_hue = GENERATE(false, true);
        for (auto& point : points) {
            point.wall_shows = !by_hue;
            point.told_by_hue = by_hue;
        }
        mark_face_border(picture_of(steel_on_grey), broken_px, points);
        CHECK(marked(points, face_ends_x).right_side == 0);
    }
}
