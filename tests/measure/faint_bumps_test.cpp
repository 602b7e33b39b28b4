// Bumps of an outline along hardly any edge.
#include "measure/faint_bumps.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <opencv2/imgproc.hpp>

#include "drawn_outline.h"

using namespace stripbook::measure;

namespace {

constexpr double right_x = 399.5;

// A dark part from (100, 100) to (400, 500) px, and the outline traced around it: on the right side a bump
// of 20 px where the ground is even.
cv::Mat3b part_on_light_ground() {
    cv::Mat3b picture(620, 560, cv::Vec3b::all(200));
    picture(cv::Rect(100, 100, 300, 400)) = cv::Vec3b::all(60);
    cv::GaussianBlur(picture, picture, {}, 0.8);
    return picture;
}

OutlineEdge traced_with_bump(double share_on_bump) {
    constexpr double bump_x = right_x + 20;
    OutlineEdge edge;
    edge.usual_contrast = 90;
    edge.points = drawn_outline::along({{99.5, 99.5},
                                        {right_x, 99.5},
                                        {right_x, 280},
                                        {bump_x, 284},
                                        {bump_x, 310},
                                        {right_x, 314},
                                        {right_x, 499.5},
                                        {99.5, 499.5}});
    for (auto& point : edge.points) {
        const bool on_bump = point.px.x > right_x + 3;
        const bool at_its_ends = point.px.x > right_x - 1 && point.px.y > 272 && point.px.y < 322;
        point.contrast_share = on_bump ? share_on_bump : at_its_ends ? 0.25 : 1;
    }
    return edge;
}

double farthest_x(const OutlineEdge& edge) {
    const auto farthest =
        std::max_element(edge.points.begin(), edge.points.end(),
                         [](const EdgePoint& a, const EdgePoint& b) { return a.px.x < b.px.x; });
    return farthest->px.x;
}

}  // namespace

TEST_CASE("A bump along hardly any edge is put back onto the side it left", "[measure]") {
    OutlineEdge edge = traced_with_bump(0.03);
    const std::size_t count = edge.points.size();
    REQUIRE(farthest_x(edge) > right_x + 19);
    put_faint_bumps_back(part_on_light_ground(), edge);
    CHECK(farthest_x(edge) == Approx(right_x).margin(0.3));
    CHECK(edge.points.size() == count);
    for (const auto& point : edge.points) {
        REQUIRE(point.contrast_share > 0.9);
        REQUIRE(cv::norm(point.outward) == Approx(1));
    }
}

TEST_CASE("A doubtful bump much fainter than the edge beside it is put back, as little as parts may differ",
          "[measure]") {
    OutlineEdge edge = traced_with_bump(0.3);
    edge.usual_contrast = 18;  // below what stretches along hardly any edge are looked for at
    SECTION("another way past it would have done as well") {
        for (auto& point : edge.points) {
            point.doubtful = point.px.x > right_x + 3;
        }
        put_faint_bumps_back(part_on_light_ground(), edge);
        CHECK(farthest_x(edge) == Approx(right_x).margin(0.3));
    }
    SECTION("no other way would have done") {
        put_faint_bumps_back(part_on_light_ground(), edge);
        CHECK(farthest_x(edge) > right_x + 19);
    }
}

TEST_CASE("A bump stays where the picture speaks for it, or shows no edge beneath", "[measure]") {
    SECTION("a clear edge around it") {
        OutlineEdge edge = traced_with_bump(0.6);
        put_faint_bumps_back(part_on_light_ground(), edge);
        CHECK(farthest_x(edge) > right_x + 19);
    }
    SECTION("the part goes on beneath it") {
        cv::Mat3b picture = part_on_light_ground();
        picture(cv::Rect(395, 282, 25, 30)) = cv::Vec3b::all(60);
        OutlineEdge edge = traced_with_bump(0.03);
        put_faint_bumps_back(picture, edge);
        CHECK(farthest_x(edge) > right_x + 19);
    }
    SECTION("a corner, whose sides do not go on") {
        OutlineEdge edge;
        edge.usual_contrast = 90;
        edge.points = drawn_outline::along({{99.5, 99.5}, {right_x, 99.5}, {right_x, 499.5}, {99.5, 499.5}});
        for (auto& point : edge.points) {
            const bool at_corner = point.px.x > right_x - 30 && point.px.y < 130;
            point.contrast_share = at_corner ? 0.03 : 1;
        }
        const auto before = places_of(edge.points);
        put_faint_bumps_back(part_on_light_ground(), edge);
        CHECK(places_of(edge.points) == before);
    }
}
