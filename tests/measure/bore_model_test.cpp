// Holes as a model of what is seen. Truth: holes put into the picture along rays from the camera.
#include "measure/bore_model.h"

#include <catch2/catch.hpp>

#include "drawn_hole.h"
#include "measure/edge_blur.h"
#include "measure/hole_edge.h"

using namespace stripbook::measure;
using namespace drawn_hole;

namespace {

// The drawing's blur, a pixel's own width and one interpolation.
const double seen_blur_px = std::sqrt(blur_px * blur_px + 1.0 / 12 + interpolation_px2);

BoreLooks looks_at(double depth_mm, double chamfer_mm, double widest_edge_mm) {
    BoreLooks looks;
    looks.blur_px = seen_blur_px;
    looks.widest_edge_mm = widest_edge_mm;
    looks.sight = {foot_mm, camera_mm + chamfer_mm, depth_mm - chamfer_mm};
    return looks;
}

double radius_by_edges(const FaceView& view, double depth_mm, double chamfer_mm) {
    HoleLooks looks;
    looks.chamfer_mm = chamfer_mm;
    looks.sight = {foot_mm, camera_mm + chamfer_mm, depth_mm - chamfer_mm};
    const auto hole = hole_edge(view, {centre_mm, 5.9, 0}, looks);
    REQUIRE(hole);
    return hole->circle_mm.radius;
}

Circle fitted(const FaceView& view, double from_radius_mm, const BoreLooks& looks) {
    const Circle rough{view.view_from_mm(centre_mm) + cv::Point2d(0.4, -0.3), from_radius_mm * view.px_per_mm,
                       0};
    const Circle px = fit_bores(view, {rough}, looks).front().rim_px;
    return {view.mm_from_view(px.centre), px.radius / view.px_per_mm, 0};
}

}  // namespace

TEST_CASE("A thin sheet's hole whose edges are one dark line has its true size", "[measure]") {
    constexpr double coarse = 3.3;  // px/mm
    const Shades shades{110, 60, 30, 150, 50, 0.5};
    for (const double depth : {1.0, 1.5, 2.5}) {
        INFO(depth << " mm deep");
        const FaceView view = view_of(depth, 0.1, shades, coarse);
        const Circle hole = fitted(view, radius_by_edges(view, depth, 0.1), looks_at(depth, 0.1, 0.2));
        CHECK(hole.radius == Approx(bore_mm).margin(0.06));
        CHECK(cv::norm(hole.centre - centre_mm) < 0.15);  // half a pixel
    }
    // What the model is for.
    CHECK(std::abs(radius_by_edges(view_of(1, 0.1, shades, coarse), 1, 0.1) - bore_mm) > 0.15);
}

TEST_CASE("The model of a hole does not depend on where the search starts", "[measure]") {
    const Shades shades{110, 80, 40, 170};
    const FaceView view = view_of(2, 0.2, shades, 5);
    for (const double start : {5.7, 6.0, 6.3}) {
        INFO("from " << start << " mm");
        CHECK(fitted(view, start, looks_at(2, 0.2, 0.32)).radius == Approx(bore_mm).margin(0.05));
    }
}

TEST_CASE("A wider broken edge is not taken for the bore", "[measure]") {
    const Shades shades{130, 95, 45, 190};
    const FaceView view = view_of(6, 0.5, shades, 5);
    CHECK(fitted(view, bore_mm + 0.1, looks_at(6, 0.5, 0.8)).radius == Approx(bore_mm).margin(0.08));
}
