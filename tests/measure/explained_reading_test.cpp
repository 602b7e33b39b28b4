// What of a second reading says nothing against the first.
#include "measure/explained_reading.h"

#include <algorithm>
#include <catch2/catch.hpp>

#include "drawn_outline.h"

using namespace stripbook::measure;

namespace {

constexpr double left_x = 100;
constexpr double wall_px = 8;

// The camera is to the left: there the wall's rim shows so far inside its foot.
cv::Point2d foot_of_rim(cv::Point2d rim_px) {
    return rim_px - cv::Point2d(wall_px, 0);
}

// An outline around a part from x = 100 to 400, its left side so far further in. `change` is called for each
// point of that side.
template <typename Change>
OutlineEdge with_left_side_in(double in_px, const Change& change) {
    OutlineEdge edge;
    const double x = left_x + in_px;
    edge.points = drawn_outline::along({{x, 100}, {400, 100}, {400, 500}, {x, 500}});
    for (auto& point : edge.points) {
        point.wall_shows = point.px.x < x + 1;
        point.rim_share = point.wall_shows ? 0.9 : 0;
        if (point.wall_shows) {
            change(point);
        }
    }
    return edge;
}

const auto as_drawn = [](EdgePoint& /*point*/) {};
const auto rim_without_edge_within = [](EdgePoint& point) { point.rim_share = 0.05; };

double left_end(const OutlineEdge& edge) {
    std::vector<double> x;
    for (const auto& point : edge.points) {
        if (point.px.y > 150 && point.px.y < 450 && point.px.x < 300) {
            x.push_back(point.px.x);
        }
    }
    REQUIRE(*std::min_element(x.begin(), x.end()) ==
            Approx(*std::max_element(x.begin(), x.end())).margin(0.01));
    return x.front();
}

}  // namespace

TEST_CASE("A second reading along the rim of the first one's wall says nothing against it", "[measure]") {
    const OutlineEdge first = with_left_side_in(0, as_drawn);
    const Wall wall{foot_of_rim, 3};
    const OutlineEdge rim = with_left_side_in(wall_px, rim_without_edge_within);
    CHECK(left_end(without_explained(rim, first, wall)) == Approx(left_x));
    // On the border of the face, the broken edge between it and the rim.
    const OutlineEdge face = with_left_side_in(wall_px + 3, rim_without_edge_within);
    CHECK(left_end(without_explained(face, first, wall)) == Approx(left_x));
    // The ends of a stretch look like what is beside it.
    const OutlineEdge mixed = with_left_side_in(wall_px, [](EdgePoint& point) {
        point.rim_share = point.px.y < 160 || point.px.y > 460 ? 0.9 : 0.05;
    });
    CHECK(left_end(without_explained(mixed, first, wall)) == Approx(left_x));
}

TEST_CASE("A second reading that may be right stays", "[measure]") {
    const OutlineEdge first = with_left_side_in(0, as_drawn);
    const Wall wall{foot_of_rim, 3};
    SECTION("one wall further in there is an edge too: a foot itself") {
        const OutlineEdge second = with_left_side_in(wall_px, as_drawn);
        CHECK(left_end(without_explained(second, first, wall)) == Approx(left_x + wall_px));
    }
    SECTION("not as far in as the wall is wide") {
        const double in_px = GENERATE(wall_px - 4, wall_px + 7);
        const OutlineEdge second = with_left_side_in(in_px, rim_without_edge_within);
        CHECK(left_end(without_explained(second, first, wall)) == Approx(left_x + in_px));
    }
    SECTION("nobody said how high the part is") {
        const OutlineEdge second = with_left_side_in(wall_px, rim_without_edge_within);
        CHECK(left_end(without_explained(second, first, {})) == Approx(left_x + wall_px));
    }
    SECTION("most of the stretch is not explained") {
        const OutlineEdge second = with_left_side_in(
            wall_px, [](EdgePoint& point) { point.rim_share = point.px.y < 250 ? 0.05 : 0.9; });
        CHECK(left_end(without_explained(second, first, wall)) == Approx(left_x + wall_px));
    }
}

TEST_CASE("A second reading along hardly any edge says nothing against a clear one", "[measure]") {
    const OutlineEdge first = with_left_side_in(0, as_drawn);
    const OutlineEdge faint = with_left_side_in(30, [](EdgePoint& point) { point.contrast_share = 0.05; });
    CHECK(left_end(without_explained(faint, first, {})) == Approx(left_x));
    // Nor is the first one's edge clear.
    const OutlineEdge pale = with_left_side_in(0, [](EdgePoint& point) { point.contrast_share = 0.2; });
    CHECK(left_end(without_explained(faint, pale, {})) == Approx(left_x + 30));
}
