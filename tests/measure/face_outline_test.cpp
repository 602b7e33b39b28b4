// What the picture shows of an upright part, against the part that it was made from.
#include "measure/face_outline.h"

#include <catch2/catch.hpp>
#include <opencv2/imgproc.hpp>

#include "measure/extent.h"

using namespace stripbook;

namespace {

// Looking straight down from 600 mm; the camera's foot is the plane's origin.
scale::Plane from_above() {
    scale::Plane plane;
    plane.lens = scale::lens_from_exif(std::nullopt, {2000, 1500});
    plane.rotation = {0, 0, 0};
    plane.translation_mm = {0, 0, 600};
    return plane;
}

// The outline of a block as a camera sees it, in the plane of its face: around all corners of face and foot,
// the foot drawn nearer to the camera's foot by similar triangles.
std::vector<cv::Point2d> silhouette(const std::vector<cv::Point2d>& corners, double height_mm) {
    std::vector<cv::Point2f> all;
    for (const auto& c : corners) {
        all.emplace_back(c);
        all.emplace_back(c * ((600 - height_mm) / 600));
    }
    std::vector<cv::Point2f> hull;
    cv::convexHull(all, hull);
    std::vector<cv::Point2d> even;
    for (std::size_t i = 0; i < hull.size(); ++i) {
        const cv::Point2d a = hull[i];
        const cv::Point2d b = hull[(i + 1) % hull.size()];
        const int steps = static_cast<int>(cv::norm(b - a) / 0.2) + 1;
        for (int s = 0; s < steps; ++s) {
            even.push_back(a + (b - a) * (s / double(steps)));
        }
    }
    return even;
}

}  // namespace

TEST_CASE("The upright corners of a tall block seen aslant add nothing to its size", "[measure]") {
    const scale::Plane plane = from_above();
    REQUIRE(scale::standpoint(plane).height_mm == Approx(600));
    for (const double turn : {0.0, 0.3, 0.8, 1.4}) {
        std::vector<cv::Point2d> corners;
        for (const auto& c : {cv::Point2d(-50, -30), {50, -30}, {50, 30}, {-50, 30}}) {
            corners.emplace_back(150 + c.x * std::cos(turn) - c.y * std::sin(turn),
                                 90 + c.x * std::sin(turn) + c.y * std::cos(turn));
        }
        const auto seen = silhouette(corners, 20);
        std::vector<cv::Point2d> mm;
        for (const auto& point : measure::within_both_readings(seen, plane, {20, 0})) {
            mm.push_back(point.mm);
        }
        INFO("turned " << turn);
        // Read as rim alone it is larger by its wall, 5.8 mm.
        CHECK(measure::extent_of(seen).length_mm > 102);
        CHECK(measure::extent_of(mm).length_mm == Approx(100).margin(0.3));
        CHECK(measure::extent_of(mm).width_mm == Approx(60).margin(0.3));
    }
}
