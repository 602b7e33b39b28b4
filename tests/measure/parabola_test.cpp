// Parabolas through points, against ones that are known.
#include "measure/parabola.h"

#include <catch2/catch.hpp>

using namespace stripbook::measure;

TEST_CASE("A parabola is found from its points, and what noise leaves is told", "[measure]") {
    std::vector<cv::Point2d> points;
    constexpr double off = 0.1;
    for (int i = -10; i <= 10; ++i) {
        points.emplace_back(i, 1 + 2 * i - 0.5 * i * i);
    }
    const auto exact = parabola_through(points);
    REQUIRE(exact);
    CHECK(exact->c[0] == Approx(1));
    CHECK(exact->c[1] == Approx(2));
    CHECK(exact->c[2] == Approx(-0.5));
    CHECK(exact->at(20) == Approx(-159));
    CHECK(exact->variance < 1e-18);

    // Each point twice, as far above as below: the same parabola, off^2 left of each over 42 - 3.
    std::vector<cv::Point2d> noisy;
    for (const auto& p : points) {
        noisy.emplace_back(p.x, p.y + off);
        noisy.emplace_back(p.x, p.y - off);
    }
    const auto fitted = parabola_through(noisy);
    REQUIRE(fitted);
    CHECK(fitted->c[2] == Approx(-0.5));
    CHECK(fitted->variance == Approx(42 * off * off / 39));
}

TEST_CASE("Points that do not tell give no parabola", "[measure]") {
    CHECK_FALSE(parabola_through({{0, 0}, {1, 1}, {2, 4}, {3, 9}}));
    CHECK_FALSE(parabola_through({{0, 0}, {0, 1}, {0, 2}, {0, 3}, {0, 4}}));
}
