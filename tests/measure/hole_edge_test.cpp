// One hole seen at an angle. Truth: rims put into the picture along rays from the camera, sample by sample.
#include "measure/hole_edge.h"

#include <catch2/catch.hpp>
#include <opencv2/imgproc.hpp>

#include "drawn_hole.h"
#include "measure/find_holes.h"

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
