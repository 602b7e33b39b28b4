// Extents, bolt circles and the outline's cleaning: arithmetic on shapes whose sizes are known by
// construction.
#include <catch2/catch.hpp>
#include <cmath>
#include <opencv2/imgproc.hpp>
#include <random>

#include "measure/bolt_circle.h"
#include "measure/closed_line.h"
#include "measure/extent.h"
#include "measure/face_outline.h"
#include "measure/quantile.h"

using namespace stripbook::measure;

namespace {

std::vector<cv::Point2d> rectangle(double w, double h, double turn, double step) {
    std::vector<cv::Point2d> points;
    const std::vector<cv::Point2d> corners{{0, 0}, {w, 0}, {w, h}, {0, h}};
    for (std::size_t i = 0; i < 4; ++i) {
        const cv::Point2d side = corners[(i + 1) % 4] - corners[i];
        const int n = static_cast<int>(cv::norm(side) / step);
        for (int k = 0; k < n; ++k) {
            const cv::Point2d p = corners[i] + side * (k / double(n));
            points.emplace_back(p.x * std::cos(turn) - p.y * std::sin(turn),
                                p.x * std::sin(turn) + p.y * std::cos(turn));
        }
    }
    return points;
}

// Two arcs and the tangents to both, evenly spaced: the plan of a lever with eyes of two sizes.
std::vector<cv::Point2d> lever(double centres, double large, double small) {
    const double turn = std::acos((large - small) / centres);
    std::vector<cv::Point2d> corners;
    constexpr int steps = 200;
    for (int k = 0; k <= steps; ++k) {
        const double at = turn + (2 * CV_PI - 2 * turn) * k / steps;
        corners.emplace_back(large * std::cos(at), large * std::sin(at));
    }
    for (int k = 0; k <= steps; ++k) {
        const double at = -turn + 2 * turn * k / steps;
        corners.emplace_back(centres + small * std::cos(at), small * std::sin(at));
    }
    return evenly_spaced(corners, 1500);
}

std::vector<HolePlace> on_circle(int count, double radius) {
    std::vector<HolePlace> holes;
    for (int i = 0; i < count; ++i) {
        const double turn = 2 * CV_PI * i / count + 0.3;
        holes.push_back({{radius * std::cos(turn), radius * std::sin(turn)}, 9});
    }
    return holes;
}

}  // namespace

TEST_CASE("Values by their rank", "[measure]") {
    CHECK(middle_value(std::vector<double>{3, 1, 2}) == 2);
    CHECK(middle_value(std::vector<double>{4, 1, 3, 2}) == 3);
    CHECK(value_at_share(std::vector<double>{5, 1, 4, 2, 3}, 0) == 1);
    CHECK(value_at_share(std::vector<double>{5, 1, 4, 2, 3}, 1) == 5);
    CHECK(value_at_share(std::vector<double>{5, 1, 4, 2, 3}, 0.9) == 4);
}

TEST_CASE(
    "Extents of any outline are those that OpenCV finds, and the furthest two points the furthest of all",
    "[measure]") {
    std::mt19937 dice(7);
    std::uniform_real_distribution<double> any(0, 1);
    for (int round = 0; round < 40; ++round) {
        std::vector<cv::Point2d> points;
        const double flat = 0.3 + any(dice);
        const double turn = 3 * any(dice);
        const int count = 40 + static_cast<int>(400 * any(dice));
        for (int i = 0; i < count; ++i) {
            const double at = 2 * CV_PI * i / count;
            const double radius = 80 * (1 + 0.1 * any(dice));
            const cv::Point2d p(radius * std::cos(at), flat * radius * std::sin(at));
            points.emplace_back(p.x * std::cos(turn) - p.y * std::sin(turn),
                                p.x * std::sin(turn) + p.y * std::cos(turn));
        }
        const Extent extent = extent_of(points);
        const std::vector<cv::Point2f> single(points.begin(), points.end());
        const cv::RotatedRect box = cv::minAreaRect(single);
        CHECK(extent.length_mm ==
              Approx(static_cast<double>(std::max(box.size.width, box.size.height))).margin(1e-3));
        CHECK(extent.width_mm ==
              Approx(static_cast<double>(std::min(box.size.width, box.size.height))).margin(1e-3));
        double furthest = 0;
        for (const auto& a : points) {
            for (const auto& b : points) {
                furthest = std::max(furthest, cv::norm(a - b));
            }
        }
        CHECK(extent.largest_mm == Approx(furthest).margin(1e-6));
    }
}

TEST_CASE("An ID-1 card and an A4 sheet have their standard sizes at any turn", "[measure]") {
    // ISO/IEC 7810: 85.60 x 53.98 mm; ISO 216: 210 x 297 mm.
    for (const double turn : {0.0, 0.4, 1.3}) {
        const Extent card = extent_of(rectangle(85.60, 53.98, turn, 0.2));
        CHECK(card.length_mm == Approx(85.60).margin(1e-4));
        CHECK(card.width_mm == Approx(53.98).margin(1e-4));
        CHECK(card.largest_mm == Approx(std::hypot(85.60, 53.98)).margin(1e-4));
        CHECK(card.area_mm2 == Approx(85.60 * 53.98).margin(0.01));
    }
    CHECK(extent_of(rectangle(210, 297, 0.7, 1)).length_mm == Approx(297).margin(1e-4));
}

TEST_CASE("Noise does not push a straight side outwards, and a bulge is not cut off", "[measure]") {
    std::mt19937 dice(5);
    std::normal_distribution<double> noise(0, 0.1);
    auto points = rectangle(120, 60, 0.2, 0.2);
    for (auto& p : points) {
        p += cv::Point2d(noise(dice), noise(dice));
    }
    const Extent noisy = extent_of(points);
    CHECK(noisy.length_mm == Approx(120).margin(0.03));
    CHECK(noisy.width_mm == Approx(60).margin(0.03));
    // A slot's end is round, and what sticks out of a side counts.
    std::vector<cv::Point2d> slot;
    for (int i = 0; i < 720; ++i) {
        const double turn = CV_PI * i / 360;
        slot.emplace_back(15 * std::cos(turn) + (std::cos(turn) > 0 ? 50 : -50), 15 * std::sin(turn));
    }
    CHECK(extent_of(slot).length_mm == Approx(130).margin(0.01));
    auto lug = rectangle(120, 60, 0, 0.2);
    for (auto& p : lug) {
        p.y += p.y > 59.9 && p.x > 50 && p.x < 60 ? 5 : 0;
    }
    CHECK(extent_of(lug).width_mm == Approx(65).margin(0.01));
}

TEST_CASE("A tapered part is as wide as its wide end", "[measure]") {
    std::mt19937 dice(9);
    std::normal_distribution<double> noise(0, 0.03);
    for (const double small : {11.8, 10.5, 9.0}) {
        auto points = lever(87.6, 12.5, small);
        for (auto& p : points) {
            p += cv::Point2d(noise(dice), noise(dice));
        }
        const Extent extent = extent_of(points);
        CAPTURE(small);
        CHECK(extent.width_mm == Approx(25).margin(0.15));
        CHECK(extent.length_mm == Approx(87.6 + 12.5 + small).margin(0.15));
    }
}

TEST_CASE("Which sizes end in corners is seen from the outline", "[measure]") {
    const auto ends_of = [](const std::vector<cv::Point2d>& points) {
        return corner_ends(points, extent_of(points));
    };
    const auto plate = ends_of(rectangle(120, 60, 0.2, 0.2));
    CHECK(plate.length == 0);
    CHECK(plate.width == 0);
    CHECK(plate.largest == 2);
    const auto round_ends = ends_of(lever(150, 29, 23));
    CHECK(round_ends.length == 0);
    CHECK(round_ends.largest == 0);
    // A sector of a ring lies on one curved side and four corners, two of them at one side of its rectangle.
    std::vector<cv::Point2d> arc;
    constexpr int steps = 100;
    for (int k = -steps; k <= steps; ++k) {
        arc.push_back(140 * cv::Point2d(std::cos(0.8 * k / steps), std::sin(0.8 * k / steps)));
    }
    for (int k = steps; k >= -steps; --k) {
        arc.push_back(110 * cv::Point2d(std::cos(0.8 * k / steps), std::sin(0.8 * k / steps)));
    }
    const auto shoe = ends_of(evenly_spaced(arc, 1500));
    CHECK(shoe.length == 2);
    CHECK(shoe.width == 1);
    CHECK(shoe.largest == 2);
}

TEST_CASE("Low bumps on a straight side are told, and counted by half", "[measure]") {
    auto points = rectangle(217.2, 132.7, 0.4, 0.2);
    const cv::Point2d along(std::cos(0.4), std::sin(0.4));
    const cv::Point2d out(std::sin(0.4), -std::cos(0.4));
    for (auto& p : points) {
        const double x = p.dot(along);
        const bool bump = std::abs(x - 50) < 4 || std::abs(x - 150) < 6;
        p += p.dot(out) > -0.01 && bump ? out * 1.1 : cv::Point2d();
    }
    const Extent extent = extent_of(points);
    CHECK(extent.width_mm == Approx(132.7 + 1.1 / 2).margin(0.05));
    CHECK(extent.width_bumps_mm == Approx(1.1).margin(0.05));
    CHECK(extent.length_bumps_mm == 0);
}

TEST_CASE("Cleaning takes the noise off and leaves the corners", "[measure]") {
    std::mt19937 dice(3);
    std::normal_distribution<double> noise(0, 0.05);
    auto points = rectangle(120, 60, 0.2, 0.2);
    const Extent exact = extent_of(points);
    for (auto& p : points) {
        p += cv::Point2d(noise(dice), noise(dice));
    }
    const Extent clean = extent_of(without_noise(points, 4));
    const auto way_round = [](const std::vector<cv::Point2d>& closed) {
        return cv::arcLength(std::vector<cv::Point2f>(closed.begin(), closed.end()), true);
    };
    CHECK(way_round(points) > 370);
    CHECK(way_round(without_noise(points, 4)) == Approx(360).margin(2));
    CHECK(std::abs(clean.largest_mm - exact.largest_mm) < 0.1);
    CHECK(std::abs(clean.length_mm - exact.length_mm) < 0.05);
    CHECK(std::abs(clean.width_mm - exact.width_mm) < 0.05);
}

TEST_CASE("Evenly spaced holes make a bolt circle, a plate's corner holes do not", "[measure]") {
    const auto bolts = find_bolt_circle(on_circle(8, 71.5), 0.4);
    REQUIRE(bolts);
    CHECK(bolts->holes.size() == 8);
    CHECK(2 * bolts->circle.radius == Approx(143));
    CHECK_FALSE(bolts->odd_one_out);
    CHECK_FALSE(find_bolt_circle({{{0, 0}, 9}, {{133, 0}, 9}, {{133, 66}, 9}, {{0, 66}, 9}}, 0.4));
    CHECK_FALSE(find_bolt_circle({{{0, 0}, 9}, {{50, 0}, 9}}, 0.4));
}

TEST_CASE("A hole of another size, and one out of place, do not spoil a bolt circle", "[measure]") {
    auto holes = on_circle(6, 50);
    holes.push_back({{0, 0}, 40});
    holes.push_back({{20, 31}, 9});
    const auto bolts = find_bolt_circle(holes, 0.4);
    REQUIRE(bolts);
    CHECK(bolts->holes.size() == 6);
    REQUIRE(bolts->odd_one_out);
    CHECK(*bolts->odd_one_out == 7);
}
