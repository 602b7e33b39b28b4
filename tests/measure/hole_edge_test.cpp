// One hole seen at an angle. Truth: rims put into the picture along rays from the camera, sample by sample.
#include "measure/hole_edge.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <opencv2/imgproc.hpp>

#include "drawn_hole.h"
#include "measure/find_holes.h"
#include "measure/holes_alike.h"

using namespace stripbook::measure;
using namespace drawn_hole;

namespace {

constexpr double px_per_mm = 7;

HoleLooks looks_at(double depth_mm, double chamfer_mm) {
    HoleLooks looks;
    looks.chamfer_mm = chamfer_mm;
    looks.sight = {foot_mm, camera_mm + chamfer_mm, depth_mm - chamfer_mm};
    return looks;
}

}  // namespace

TEST_CASE("A hole's wall in shadow does not make the hole smaller", "[measure]") {
    const Shades dark_wall{60, 60, 35, 200};
    for (const double depth : {0.8, 1.2, 3.0, 12.0}) {
        INFO(depth << " mm deep");
        const FaceView view = view_of(depth, 0, dark_wall, px_per_mm);
        const auto hole = hole_edge(view, {centre_mm, 5.7, 0}, looks_at(depth, 0));
        REQUIRE(hole);
        CHECK(hole->circle_mm.radius == Approx(bore_mm).margin(0.06));
        CHECK(cv::norm(hole->circle_mm.centre - centre_mm) < 0.1);
        CHECK(hole->evidence > 0.7);
    }
}

TEST_CASE("The bore is found within a broken edge that shows as a ring", "[measure]") {
    const Shades ring{130, 80, 35, 175};
    const FaceView view = view_of(8, 0.5, ring, px_per_mm);
    const auto hole = hole_edge(view, {centre_mm, 6.2, 0}, looks_at(8, 0.5));
    REQUIRE(hole);
    CHECK(hole->circle_mm.radius == Approx(bore_mm).margin(0.1));
}

TEST_CASE("From straight above, a bore's lower rim is not taken for the bore", "[measure]") {
    // The lit bench makes the lower rim the clearest circle of all. By similar triangles it lies 0.43 mm
    // inside the bore: no further than a broken edge may be wide.
    const Shades shades{130, 90, 50, 220};
    constexpr double depth = 15;
    constexpr double chamfer = 0.2;
    const Sight above{centre_mm + cv::Point2d(1, 2), 12};
    const FaceView view = view_of(depth, chamfer, shades, px_per_mm, above);
    HoleLooks looks = looks_at(depth, chamfer);
    looks.chamfer_mm = 0.5;  // allowed for
    looks.sight.foot_mm = above.foot;
    const auto hole = hole_edge(view, {centre_mm, 11.6, 0}, looks);
    REQUIRE(hole);
    CHECK(hole->circle_mm.radius > above.bore - 0.1);
    CHECK(hole->circle_mm.radius < above.bore + chamfer + 0.1);
}

TEST_CASE("A dark bore on a bright ground is not as narrow as its lower rim, the only clear circle",
          "[measure]") {
    // Face and wall are nearly as dark as each other: the bore's own rim is faint.
    const Shades shades{75, 75, 40, 225};
    constexpr double depth = 11;
    const Sight above{centre_mm + cv::Point2d(0.3, 0.2), 12};
    const FaceView view = view_of(depth, 0, shades, px_per_mm, above);
    HoleLooks looks = looks_at(depth, 0);
    looks.chamfer_mm = 0.5;  // allowed for
    looks.sight.foot_mm = above.foot;
    // By similar triangles the lower rim is seen at 12 * 400 / 411.
    const auto hole = hole_edge(view, {centre_mm, 11.7, 0}, looks);
    REQUIRE(hole);
    CHECK(hole->circle_mm.radius == Approx(above.bore).margin(0.1));
    CHECK(hole->second_mm.radius == Approx(above.bore).margin(0.1));

    // From beside it, the lower rim is seen off the bore's middle by 11 / 411 of that; from 13 mm a little of
    // it is hidden.
    for (const double beside_mm : {11., 13.}) {
        const Sight beside{centre_mm + cv::Point2d(0.8, 0.6) * beside_mm, 12};
        looks.sight.foot_mm = beside.foot;
        const auto aside =
            hole_edge(view_of(depth, 0, shades, px_per_mm, beside), {centre_mm, 11.7, 0}, looks);
        REQUIRE(aside);
        CHECK(aside->circle_mm.radius == Approx(beside.bore).margin(0.1));
        CHECK(cv::norm(aside->circle_mm.centre - centre_mm) < 0.1);
    }
}

TEST_CASE("A lower rim that lies close inside its bore, but off its middle, is not taken for it",
          "[measure]") {
    // Nowhere but on the one side are the two rims more than 1.5 px apart; the lower one is the clearer edge.
    const Shades shades{120, 120, 45, 225};
    constexpr double depth = 5.4;
    const Sight beside{centre_mm + cv::Point2d(0.8, 0.6) * 21, 16};
    HoleLooks looks = looks_at(depth, 0);
    looks.chamfer_mm = 0.5;  // allowed for
    looks.sight.foot_mm = beside.foot;
    const auto hole = hole_edge(view_of(depth, 0, shades, px_per_mm, beside), {centre_mm, 15.9, 0}, looks);
    REQUIRE(hole);
    CHECK(hole->circle_mm.radius == Approx(beside.bore).margin(0.06));
    CHECK(cv::norm(hole->circle_mm.centre - centre_mm) < 0.06);
}

namespace {

// A dark hole within a lighter ring as broken edges show it: both circles about one centre, or meeting on the
// left, where the ring is as dark as the hole.
FaceView ringed_hole(const Circle& hole, double ring_mm, double ring_grey = 85) {
    constexpr int fine = 3;
    const int side = static_cast<int>(side_mm * px_per_mm) * fine;
    cv::Mat1f light(side, side);
    for (int y = 0; y < side; ++y) {
        for (int x = 0; x < side; ++x) {
            const cv::Point2d mm = cv::Point2d(x, y) / (fine * px_per_mm);
            const double grey = cv::norm(mm - hole.centre) < hole.radius ? 35
                                : cv::norm(mm - centre_mm) < ring_mm     ? ring_grey
                                                                         : 130;
            light(y, x) = static_cast<float>(drawn_light::linear(grey));
        }
    }
    cv::Mat1f small;
    cv::resize(light, small, {}, 1.0 / fine, 1.0 / fine, cv::INTER_AREA);
    cv::GaussianBlur(small, small, {}, blur_px);
    FaceView view;
    view.px_per_mm = px_per_mm;
    view.picture = drawn_light::photo_of(small, cv::Mat1f(small.size(), 0.0F));
    return view;
}

}  // namespace

TEST_CASE("A whole circle is no lower rim that its bore would hide in part", "[measure]") {
    // Through a bore 0.6 mm wider whose middle is seen 1 mm off its own, a tenth deeper than the camera is
    // high, a lower rim would look as this hole does, but where it lies outside the bore it could not be
    // seen.
    constexpr double ring_mm = bore_mm + 0.6;
    constexpr double off_mm = 1;
    const Circle whole{centre_mm - cv::Point2d(off_mm, 0), bore_mm, 0};
    HoleLooks looks;
    looks.chamfer_mm = 0.5;
    looks.sight = {whole.centre - cv::Point2d(off_mm / 0.1, 0), 100, 10};
    constexpr double ring_grey = 60;
    const auto hole = hole_edge(ringed_hole(whole, ring_mm, ring_grey), {centre_mm, bore_mm + 0.3, 0}, looks);
    REQUIRE(hole);
    CHECK(hole->second_mm.radius == Approx(bore_mm).margin(0.1));
}

TEST_CASE("An edge that can be read in two ways gives a hole between them and says how far apart they are",
          "[measure]") {
    const std::vector<cv::Point2d> outline{{2, 2}, {58, 2}, {58, 58}, {2, 58}};
    constexpr double ring_mm = bore_mm + 0.6;
    HoleLooks looks;
    looks.chamfer_mm = 0.5;
    const auto clear = find_holes(ringed_hole({centre_mm, bore_mm, 0}, ring_mm), outline, {}, looks);
    REQUIRE(clear.size() == 1);
    CHECK(clear[0].circle_mm.radius == Approx(bore_mm).margin(0.1));
    CHECK(clear[0].readings_apart_mm == 0);
    CHECK(clear[0].middles_apart_mm < 0.05);
    const Circle aside{centre_mm - cv::Point2d(0.3, 0), bore_mm + 0.3, 0};
    const auto doubtful = find_holes(ringed_hole(aside, ring_mm), outline, {}, looks);
    REQUIRE(doubtful.size() == 1);
    CHECK(doubtful[0].readings_apart_mm == Approx(2 * (ring_mm - aside.radius)).margin(0.15));
    CHECK(doubtful[0].circle_mm.radius == Approx((ring_mm + aside.radius) / 2).margin(0.1));
    CHECK(doubtful[0].middles_apart_mm == Approx(cv::norm(centre_mm - aside.centre)).margin(0.1));
}

TEST_CASE("Holes alike tell which reading is right, and which hole is not as they are", "[measure]") {
    const auto hole_of = [](double first, double second) {
        HoleEdge hole;
        hole.circle_mm.radius = first;
        hole.second_mm.radius = second;
        return hole;
    };
    std::vector<HoleEdge> holes{hole_of(5, 5), hole_of(5.05, 5.5), hole_of(4.95, 5), hole_of(5.5, 5.02),
                                hole_of(9, 8.5)};
    take_reading_of_alikes(holes);
    CHECK(holes[1].second_mm.radius == 5.05);  // the others agree with its first
    CHECK(holes[3].circle_mm.radius == 5.02);  // and with the second of this one
    CHECK(holes[4].second_mm.radius == 8.5);   // nobody is like it
    const std::vector<double> radii{5, 5.05, 4.95, 5.4, 9};
    CHECK(unlike_those_alike(radii, 5.4) == Approx(0.35));
    CHECK(unlike_those_alike({5, 5.05, 4.95, 5.26}, 5.26) == Approx(0.21));
    CHECK(unlike_those_alike({5, 5.05, 4.95, 5.24}, 5.24) == 0);
    CHECK(unlike_those_alike(radii, 5.05) == 0);
    CHECK(unlike_those_alike(radii, 9) == 0);
    CHECK(unlike_those_alike({5, 5.4, 5.8}, 5.8) == 0);  // no three agree
}

// Diameters 10.0, 10.2, 10.4: 0.2 mm, by the definition (n - 1).
TEST_CASE("How much the holes like one scatter leaves out other sizes, and one that is unlike them",
          "[measure]") {
    const auto holes_of = [](const std::vector<double>& diameters) {
        std::vector<RoundHole> holes(diameters.size());
        for (std::size_t i = 0; i < diameters.size(); ++i) {
            holes[i].circle_mm.radius = diameters[i] / 2;
        }
        compare_alike(holes);
        return holes;
    };
    const auto three = holes_of({10, 10.2, 10.4, 18});
    CHECK(three[0].alike_scatter_mm == Approx(0.2));
    CHECK(three[3].alike_scatter_mm == 0);
    const auto two = holes_of({10, 10.4, 18});
    CHECK(two[1].alike_scatter_mm == Approx(0.4 / std::sqrt(2)));
    CHECK(two[2].alike_scatter_mm == 0);
    // ISO 273 for M8: 8.4 mm fine, 9 mm medium. Two sizes in one part.
    CHECK(holes_of({8.4, 9})[0].alike_scatter_mm == 0);
    CHECK(holes_of({20, 20.6})[0].alike_scatter_mm == 0);
    const auto one_unlike = holes_of({10, 10.2, 10.1, 10.9});
    CHECK(one_unlike[3].unlike_mm == Approx(0.7));
    CHECK(one_unlike[0].alike_scatter_mm == Approx(0.1));
}

TEST_CASE("A small hole needs a clearer edge than a large one: small stains are round more often",
          "[measure]") {
    HoleEdge edge;
    edge.support = 1;
    edge.evidence = 0.5;
    edge.circle_mm.radius = 6;
    CHECK(is_hole(edge, 6));
    edge.circle_mm.radius = 1.8;
    CHECK_FALSE(is_hole(edge, 6));
    edge.evidence = 0.6;
    CHECK(is_hole(edge, 6));
    edge.circle_mm.radius = 1.4;  // smaller than any that is looked for
    CHECK_FALSE(is_hole(edge, 6));
}

TEST_CASE("A round stain with a soft edge is no hole", "[measure]") {
    FaceView view;
    view.px_per_mm = px_per_mm;
    const std::vector<cv::Point2d> outline{{2, 2}, {58, 2}, {58, 58}, {2, 58}};
    const auto with_edge = [&](double sigma_px) {
        cv::Mat3b picture(420, 420, cv::Vec3b(60, 90, 150));
        cv::circle(picture, {210, 210}, 42, cv::Scalar(45, 60, 95), cv::FILLED, cv::LINE_AA);
        cv::GaussianBlur(picture, picture, {}, sigma_px);
        view.picture = picture;
        return find_holes(view, outline, {}, looks_at(8, 0.5));
    };
    REQUIRE(with_edge(1).size() == 1);
    CHECK(with_edge(1)[0].circle_mm.radius == Approx(bore_mm).margin(0.1));
    CHECK(with_edge(4.5).empty());
}
