#include "measure/circle_fit.h"

#include <catch2/catch.hpp>
#include <cmath>

using namespace stripbook::measure;

namespace {

// Gander, Golub, Strebel: Least-squares fitting of circles and ellipses, BIT 34 (1994) 558-578.
const std::vector<cv::Point2d> published{{1, 7}, {2, 6}, {5, 8}, {7, 7}, {9, 5}, {3, 7}};

}  // namespace

TEST_CASE("The algebraic circle is the published one", "[measure]") {
    const auto circle = algebraic_circle(published);
    REQUIRE(circle);
    CHECK(circle->centre.x == Approx(5.3794).margin(5e-5));
    CHECK(circle->centre.y == Approx(7.2532).margin(5e-5));
    CHECK(circle->radius == Approx(3.0370).margin(5e-5));
}

TEST_CASE("The geometric circle is the published one", "[measure]") {
    const auto circle = geometric_circle(published);
    REQUIRE(circle);
    CHECK(circle->centre.x == Approx(4.7398).margin(5e-5));
    CHECK(circle->centre.y == Approx(2.9835).margin(5e-5));
    CHECK(circle->radius == Approx(4.7142).margin(5e-5));
    CHECK(circle->rms * std::sqrt(6.0) == Approx(1.107971).margin(1e-5));
}

TEST_CASE("Two points, and points on a line, make no circle", "[measure]") {
    CHECK_FALSE(algebraic_circle({{0, 0}, {1, 1}}));
    CHECK_FALSE(geometric_circle({{0, 0}, {1, 1}, {2, 2}, {3, 3}}));
}

TEST_CASE("A quarter of the points elsewhere does not move a robust circle", "[measure]") {
    std::vector<cv::Point2d> points;
    for (int i = 0; i < 80; ++i) {
        const double turn = 2 * CV_PI * i / 80;
        const double radius = i % 4 == 0 ? 23 : 20;
        points.emplace_back(7 + radius * std::cos(turn), -3 + radius * std::sin(turn));
    }
    const auto circle = robust_circle(points, {{7.5, -3.5}, 21, 0}, 0.5);
    REQUIRE(circle);
    CHECK(circle->radius == Approx(20).margin(0.02));
    CHECK(cv::norm(circle->centre - cv::Point2d(7, -3)) < 0.02);
}
