// A thin sheet as dark as its own shadow, drawn ray by ray: from the camera through each pixel to what it
// meets, and from the ground on to the lamp. Truth: the plate and the holes it is drawn from; a height's
// shadow is as long as the height times the cotangent of the lamp's elevation (common practice, no source).
#include "measure/own_shadow.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <opencv2/imgproc.hpp>

#include "drawn_light.h"
#include "measure/closed_line.h"
#include "measure/lit_ground.h"
#include "plane_above.h"

using namespace stripbook;
using namespace stripbook::measure;

namespace {

constexpr double high_mm = 1.6;
constexpr double corner_mm = 6;
const cv::Rect2d plate(70, 60, 60, 40);  // aside of the camera's foot, mm
const std::vector<Circle> bores{{{82, 72}, 4.0, 0}, {{118, 88}, 4.0, 0}, {{100, 80}, 7.5, 0}};

// Linear light, of a lit white level face 1.
struct Light {
    double ground = 0.6, shadow = 0.2, part = 0.15;
};

// From the lamp: how far a shadow falls for each mm of height.
cv::Point2d drift_of(double elevation_deg, double towards_deg) {
    const double e = elevation_deg * CV_PI / 180;
    const double a = towards_deg * CV_PI / 180;
    return std::cos(e) / std::sin(e) * cv::Point2d(std::cos(a), std::sin(a));
}

// How far a point lies outside of the plate.
double outside_plate(cv::Point2d mm) {
    const cv::Point2d half(plate.width / 2 - corner_mm, plate.height / 2 - corner_mm);
    const cv::Point2d off = mm - (plate.tl() + plate.br()) / 2;
    const cv::Point2d beyond(std::abs(off.x) - half.x, std::abs(off.y) - half.y);
    const cv::Point2d far(std::max(0.0, beyond.x), std::max(0.0, beyond.y));
    return cv::norm(far) + std::min(0.0, std::max(beyond.x, beyond.y)) - corner_mm;
}

bool in_part(cv::Point2d mm) {
    return outside_plate(mm) <= 0 && std::none_of(bores.begin(), bores.end(), [&](const Circle& bore) {
               return cv::norm(mm - bore.centre) < bore.radius;
           });
}

double light_at(cv::Point2d ground_mm, const scale::Standpoint& camera, cv::Point2d drift,
                const Light& light) {
    constexpr int steps = 12;
    bool shaded = false;
    for (int i = 0; i <= steps; ++i) {
        const double height = high_mm * i / steps;
        const cv::Point2d seen =
            camera.foot_mm + (ground_mm - camera.foot_mm) * ((camera.height_mm - height) / camera.height_mm);
        if (in_part(seen)) {
            return light.part;
        }
        shaded = shaded || in_part(ground_mm - drift * height);
    }
    return shaded ? light.shadow : light.ground;
}

struct Drawn {
    scale::Plane plane = plane_above();
    cv::Mat3b picture;
    cv::Point2d shadow_mm;
    std::vector<OutlinePoint> outline;  // around the plate and its shadow
    std::vector<RoundHole> holes;       // as wrong as an edge finder has them that takes shadow for part
};

Drawn drawn(double elevation_deg, double towards_deg, const Light& light = {}) {
    Drawn d;
    const cv::Point2d drift = drift_of(elevation_deg, towards_deg);
    d.shadow_mm = high_mm * drift;
    constexpr int fine = 3;
    const auto camera = scale::standpoint(d.plane);
    cv::Mat1f fine_light(d.plane.lens.size_px * fine, static_cast<float>(light.ground));
    for (int y = 0; y < fine_light.rows; ++y) {
        for (int x = 0; x < fine_light.cols; ++x) {
            const cv::Point2d px = (cv::Point2d(x, y) + cv::Point2d(0.5, 0.5)) / fine - cv::Point2d(0.5, 0.5);
            // Straight above, without lens errors: the same 5 px for each mm all over the bench.
            const cv::Point2d mm = camera.foot_mm + (px - cv::Point2d(d.plane.lens.centre_px)) / 5;
            if (outside_plate(mm) < 5) {
                fine_light(y, x) = static_cast<float>(light_at(mm, camera, drift, light));
            }
        }
    }
    cv::Mat1f seen;
    cv::resize(fine_light, seen, d.plane.lens.size_px, 0, 0, cv::INTER_AREA);
    cv::GaussianBlur(seen, seen, {}, 0.8);
    cv::Mat1f noise(seen.size());
    cv::RNG(7).fill(noise, cv::RNG::NORMAL, 0, 1.5);
    d.picture = drawn_light::photo_of(seen, noise);

    std::vector<cv::Point2d> border;
    constexpr int turns = 720;
    for (int i = 0; i < turns; ++i) {
        const double turn = 2 * CV_PI * i / turns;
        const cv::Point2d way(std::cos(turn), std::sin(turn));
        const cv::Point2d corner((way.x > 0 ? 1 : -1) * (plate.width / 2 - corner_mm),
                                 (way.y > 0 ? 1 : -1) * (plate.height / 2 - corner_mm));
        const cv::Point2d foot = (plate.tl() + plate.br()) / 2 + corner + corner_mm * way;
        border.push_back(way.dot(d.shadow_mm) > 0 ? foot + d.shadow_mm : foot);
    }
    for (const auto& mm : evenly_spaced(border, 700)) {
        d.outline.push_back({*scale::pixel_from_plane(d.plane, mm, 0), false});
    }
    for (const auto& bore : bores) {
        RoundHole hole;
        hole.circle_mm = {bore.centre + 0.3 * d.shadow_mm, bore.radius - 0.2, 0};
        d.holes.push_back(hole);
    }
    return d;
}

double farthest_outside(const std::vector<OutlinePoint>& outline, const scale::Plane& plane) {
    double far = 0;
    for (const auto& mm : outline_mm(outline, plane, {high_mm, 0})) {
        far = std::max(far, outside_plate(mm));
    }
    return far;
}

bool unchanged(const WithoutShadow& now, const Drawn& before) {
    bool same = now.taken_off_mm == 0 && now.outline.size() == before.outline.size();
    for (std::size_t i = 0; same && i < before.outline.size(); ++i) {
        same = now.outline[i].px == before.outline[i].px;
    }
    for (std::size_t i = 0; i < before.holes.size(); ++i) {
        same = same && now.holes[i].circle_mm.radius == before.holes[i].circle_mm.radius;
    }
    return same;
}

}  // namespace

TEST_CASE("The holes of a sheet as dark as its shadow tell the sheet from the shadow", "[measure]") {
    for (const double towards_deg : {20.0, 135.0, 270.0}) {
        const Drawn d = drawn(60, towards_deg);
        INFO("light falls towards " << towards_deg << " degrees");
        REQUIRE(farthest_outside(d.outline, d.plane) > 0.9);
        const auto now = without_own_shadow(d.picture, d.plane, {high_mm, 0}, d.outline, d.holes);
        CHECK(now.taken_off_mm == Approx(high_mm / std::sqrt(3.0)).margin(0.1));  // cot 60 degrees
        CHECK(farthest_outside(now.outline, d.plane) < 0.2);
        for (std::size_t i = 0; i < bores.size(); ++i) {
            CHECK(now.holes[i].circle_mm.radius == Approx(bores[i].radius).margin(0.04));
            CHECK(cv::norm(now.holes[i].circle_mm.centre - bores[i].centre) < 0.05);
            CHECK(now.holes[i].readings_apart_mm == Approx(0.2).margin(0.04));
        }
    }
}

TEST_CASE("The shadow seen in holes is as long as the height and the lamp's elevation have it", "[measure]") {
    for (const double elevation_deg : {45.0, 55.0, 70.0}) {
        const Drawn d = drawn(elevation_deg, 210);
        const std::vector<cv::Point2d> around{plate.tl(), plate.br()};
        const auto view = face_view(d.picture, d.plane, around, 0, 1600);
        REQUIRE(view);
        const auto camera = scale::standpoint(d.plane);
        const ViewLight light(*view);
        const RimsAbove rims{camera.foot_mm, camera.height_mm, high_mm};
        std::vector<Circle> seen;
        for (const auto& hole : d.holes) {
            seen.push_back(hole.circle_mm);
        }
        const auto shadow = shadow_in_holes(light, bores, rims);
        INFO(elevation_deg << " degrees");
        REQUIRE(shadow);
        CHECK(cv::norm(shadow->mm - d.shadow_mm) < 0.2);
        CHECK(cv::norm(lit_ground(*shadow, light, seen, rims).shadow.mm - d.shadow_mm) < 0.05);
        CHECK(shadow->face == Approx(0.15 / 0.6).margin(0.03));
        // Blurring makes a narrow shadow paler.
        CHECK(shadow->shade > 0.2 / 0.6 - 0.03);
        CHECK(shadow->shade < 0.6);
        CHECK(shadow->hides_edge());
        CHECK(face_over_ground(light, bores, rims) == Approx(0.15 / 0.6).margin(0.03));
    }
}

TEST_CASE("A shadow that a dark sheet may have unseen in its holes counts in their diameters", "[measure]") {
    const auto most_u = [](double elevation_deg, const Light& light) {
        const Drawn d = drawn(elevation_deg, 20, light);
        const auto now = without_own_shadow(d.picture, d.plane, {high_mm, 0}, d.outline, d.holes);
        double most = 0;
        for (const auto& hole : now.holes) {
            most = std::max(most, hole.u_shadow_mm);
        }
        return most;
    };
    CHECK(most_u(90, {0.6, 0.2, 0.15}) > 0.1);
    CHECK(most_u(60, {0.6, 0.2, 0.15}) == 0);  // seen, and taken off
    CHECK(most_u(90, {0.6, 0.2, 0.5}) == 0);   // too pale to be taken for its shadow
}

TEST_CASE("Where the holes tell of no shadow that may be taken for part, all stays as it was", "[measure]") {
    const Heights heights{high_mm, 0};
    SECTION("light from straight above") {
        const Drawn d = drawn(90, 0);
        CHECK(unchanged(without_own_shadow(d.picture, d.plane, heights, d.outline, d.holes), d));
    }
    SECTION("a part paler than its shadow") {
        const Drawn d = drawn(60, 20, {0.6, 0.2, 0.4});
        CHECK(unchanged(without_own_shadow(d.picture, d.plane, heights, d.outline, d.holes), d));
    }
    SECTION("no hole") {
        Drawn d = drawn(60, 20);
        d.holes.clear();
        CHECK(unchanged(without_own_shadow(d.picture, d.plane, heights, d.outline, d.holes), d));
    }
    SECTION("a thick part") {
        const Drawn d = drawn(60, 20);
        CHECK(unchanged(without_own_shadow(d.picture, d.plane, {5, 0}, d.outline, d.holes), d));
    }
    SECTION("a hole that is none") {
        Drawn d = drawn(60, 20);
        d.holes.back().circle_mm.centre = {88, 90};
        CHECK(unchanged(without_own_shadow(d.picture, d.plane, heights, d.outline, d.holes), d));
    }
}
