// Outlines that jump to and fro, as they do in the soft border of a shadow.
#include "measure/ragged_edge.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "drawn_outline.h"

using namespace stripbook::measure;

namespace {

// 400 by 250 px.
OutlineEdge drawn() {
    OutlineEdge edge;
    edge.points = drawn_outline::along({{100, 100}, {500, 100}, {500, 350}, {100, 350}});
    return edge;
}

std::size_t scatter(OutlineEdge& edge, double below_y_px, double rms_px) {
    cv::RNG random(3);
    std::size_t count = 0;
    for (auto& point : edge.points) {
        if (point.px.x > 499 && point.px.y < below_y_px) {
            point.px += point.outward * random.gaussian(rms_px);
            ++count;
        }
    }
    return count;
}

}  // namespace

TEST_CASE("A side that jumps by pixels is ragged, its neighbours are not", "[measure]") {
    OutlineEdge edge = drawn();
    const double share = static_cast<double>(scatter(edge, 1e9, 2)) / static_cast<double>(edge.points.size());
    REQUIRE(share > 0.18);
    // A window that reaches round the corner has some of both.
    CHECK(ragged_share(edge) == Approx(share).margin(0.02));
}

TEST_CASE("Neither corners, nor a round outline, nor noise of a clear edge is ragged", "[measure]") {
    OutlineEdge edge = drawn();
    CHECK(ragged_share(edge) == 0);
    scatter(edge, 1e9, 0.3);
    CHECK(ragged_share(edge) == 0);
    std::vector<cv::Point2d> round;
    constexpr int corners = 720;
    for (int i = 0; i < corners; ++i) {
        const double turn = 2 * CV_PI * i / corners;
        round.emplace_back(300 + 60 * std::cos(turn), 300 + 60 * std::sin(turn));
    }
    edge.points = drawn_outline::along(round);
    CHECK(ragged_share(edge) == 0);
}

TEST_CASE("A short ragged stretch is a step over a stain and does not count", "[measure]") {
    OutlineEdge edge = drawn();
    REQUIRE(scatter(edge, 112, 3) > 5);
    CHECK(ragged_share(edge) == 0);
}

TEST_CASE("A shadow's border that was allowed for does not count", "[measure]") {
    OutlineEdge edge = drawn();
    scatter(edge, 1e9, 2);
    for (auto& point : edge.points) {
        point.aside_px = point.px.x > 480 ? -2 : 0;
    }
    CHECK(ragged_share(edge) == 0);
    for (auto& point : edge.points) {
        point.aside_px = -point.aside_px;  // half a broken edge, outward
    }
    CHECK(ragged_share(edge) > 0.15);
}

TEST_CASE("A few points are no outline to be ragged", "[measure]") {
    OutlineEdge edge;
    CHECK(ragged_share(edge) == 0);
    edge.points.resize(41);
    CHECK(ragged_share(edge) == 0);
}
