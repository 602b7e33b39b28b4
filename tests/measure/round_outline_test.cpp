// Round parts, and the shadow beside them. Truth: the circles they are drawn from; that a level rim's shadow
// on a level bench is the rim moved aside is a parallel projection's property (common practice, no source).
#include "measure/round_outline.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "measure/circle_fit.h"

using namespace stripbook::measure;

namespace {

const cv::Point2d centre(37, -12);
constexpr double radius = 42.2;

cv::Point2d direction(double turn) {
    return {std::cos(turn), std::sin(turn)};
}

// Where the outline of a circle and of the same circle moved lies in this direction from the first centre:
// the far end of either.
double far_end(cv::Point2d way, cv::Point2d shadow) {
    const double along = way.dot(shadow);
    const double across = way.cross(shadow);
    return std::max(radius, along + std::sqrt(radius * radius - across * across));
}

// Restless by so much on the shadow's side and beside it, mm.
std::vector<cv::Point2d> outline_with(cv::Point2d shadow, double in_shadow_mm, double beside_mm) {
    constexpr int count = 1500;
    cv::RNG noise(11);
    std::vector<cv::Point2d> outline;
    for (int i = 0; i < count; ++i) {
        const cv::Point2d way = direction(2 * CV_PI * i / count);
        const double restless = way.dot(shadow) > 0 ? in_shadow_mm : beside_mm;
        outline.push_back(centre + way * (far_end(way, shadow) + noise.gaussian(restless)));
    }
    return outline;
}

Circle circle_of(const RoundOutline& round) {
    const auto circle = geometric_circle(round.mm);
    REQUIRE(circle);
    CHECK(circle->rms < 1e-9);
    return *circle;
}

}  // namespace

TEST_CASE("A round outline becomes its circle, and anything else stays as it is", "[measure]") {
    const auto round = circle_if_round(outline_with({0, 0}, 0.05, 0.05));
    const Circle circle = circle_of(round);
    CHECK(circle.radius == Approx(radius).margin(0.01));
    CHECK(cv::norm(circle.centre - centre) < 0.01);
    REQUIRE(round.circle);
    CHECK(round.circle->radius == Approx(radius).margin(0.01));
    CHECK(round.shadow_mm == 0);

    std::vector<cv::Point2d> square;
    for (int i = 0; i < 400; ++i) {
        const double along = i % 100;
        const int side = i / 100;
        square.emplace_back(side == 0   ? along
                            : side == 1 ? 100
                            : side == 2 ? 100 - along
                                        : 0,
                            side == 0   ? 0
                            : side == 1 ? along
                            : side == 2 ? 100
                                        : 100 - along);
    }
    CHECK(circle_if_round(square).mm == square);
    CHECK_FALSE(circle_if_round(square).circle);
    CHECK(circle_if_round({}).mm.empty());
}

TEST_CASE("The shadow beside a round part does not make it larger", "[measure]") {
    const cv::Point2d shadow(0.8, -0.35);
    const auto outline = outline_with(shadow, 0.05, 0.02);
    // One circle through all of it is what the shadow makes of it.
    const auto one = geometric_circle(outline);
    REQUIRE(one);
    REQUIRE(one->radius > radius + 0.25);
    const auto round = circle_if_round(outline);
    const Circle circle = circle_of(round);
    CHECK(circle.radius == Approx(radius).margin(0.03));
    CHECK(round.shadow_mm == Approx(cv::norm(shadow)).margin(0.05));
    // The restless side is the shadow's.
    CHECK(cv::norm(circle.centre - centre) < 0.05);
    const auto other = circle_if_round(outline_with(shadow, 0.02, 0.05));
    CHECK(cv::norm(circle_of(other).centre - (centre + shadow)) < 0.05);
}

TEST_CASE("A round part without a shadow, or hardly any, is not made smaller", "[measure]") {
    const cv::Point2d narrow(0.1, 0.1);
    const auto with_narrow = circle_if_round(outline_with(narrow, 0.05, 0.02));
    CHECK(with_narrow.shadow_mm == 0);
    // Restless, but no other way around than a circle.
    const auto restless = circle_if_round(outline_with({0, 0}, 0.15, 0.15));
    CHECK(restless.shadow_mm == 0);
    CHECK(circle_of(restless).radius == Approx(radius).margin(0.02));
    // A dent on one side is no shadow.
    auto dented = outline_with({0, 0}, 0.02, 0.02);
    for (std::size_t i = 100; i < 300; ++i) {
        dented[i] -= direction(2 * CV_PI * static_cast<double>(i) / 1500) * 0.25;
    }
    const auto with_dent = circle_if_round(dented);
    CHECK(with_dent.shadow_mm == 0);
    CHECK(circle_of(with_dent).radius == Approx(radius).margin(0.05));
}
