#include "sample_maker/camera.h"

#include <catch2/catch.hpp>
#include <opencv2/calib3d.hpp>

#include "sample_maker/dice.h"

using namespace stripbook::sample_maker;

namespace {

Camera bent_camera() {
    Camera camera = plain_camera({1600, 1200});
    camera.matrix(0, 2) = 812.3;
    camera.matrix(1, 1) = 1900;
    camera.distortion = {-0.2, 0.05, 0.002, -0.001};
    return camera;
}

Pose tilted_pose() {
    Pose pose;
    cv::Rodrigues(cv::Vec3d(0.3, -0.2, 0.7), pose.rotation);
    pose.translation_mm = {-100, -60, 700};
    return pose;
}

// OpenCV's own projection: the truth.
cv::Point2d projected(const Camera& camera, const Pose& pose, cv::Point2d plane_mm) {
    std::vector<cv::Point2d> pixels;
    cv::Vec3d turn;
    cv::Rodrigues(pose.rotation, turn);
    cv::projectPoints(std::vector<cv::Point3d>{{plane_mm.x, plane_mm.y, 0}}, turn, pose.translation_mm,
                      camera.matrix, cv::Mat(4, 1, CV_64F, const_cast<double*>(camera.distortion.data())),
                      pixels);
    return pixels.front();
}

}  // namespace

TEST_CASE("Points fall where cv::projectPoints puts them, with every term of the lens", "[sample_maker]") {
    const Pose pose = tilted_pose();
    for (const Camera& camera : {plain_camera({1600, 1200}), bent_camera()}) {
        Dice dice(3);
        for (int i = 0; i < 500; ++i) {
            const cv::Point2d plane_mm(dice.between(-100, 300), dice.between(-100, 300));
            const auto pixel = pixel_from_plane(camera, pose, plane_mm);
            REQUIRE(pixel);
            CHECK(cv::norm(*pixel - projected(camera, pose, plane_mm)) < 1e-8);
        }
    }
}

TEST_CASE("A pixel's ray leads back to the plane point", "[sample_maker]") {
    const Pose pose = tilted_pose();
    const Camera camera = bent_camera();
    const PlaneFromRay plane_from_ray(pose);
    Dice dice(4);
    for (int i = 0; i < 500; ++i) {
        const cv::Point2d plane_mm(dice.between(-100, 300), dice.between(-100, 300));
        const auto ray = ray_from_pixel(camera, projected(camera, pose, plane_mm));
        REQUIRE(ray);
        const auto back = plane_from_ray(*ray);
        REQUIRE(back);
        CHECK(cv::norm(*back - plane_mm) < 1e-7);
    }
}

TEST_CASE("Beyond the lens model's fold and behind the camera there is no pixel and no ray",
          "[sample_maker]") {
    Camera camera = plain_camera({1600, 1200});
    camera.distortion = {-0.4, 0, 0, 0};  // folds where 1 - 1.2 r^2 = 0: at r = 0.913, bent to 0.609
    Pose pose;
    CHECK(pixel_from_plane(camera, pose, {900, 0}));
    CHECK_FALSE(pixel_from_plane(camera, pose, {930, 0}));
    const double fold_px = camera.matrix(0, 2) + 0.609 * camera.matrix(0, 0);
    CHECK(ray_from_pixel(camera, {fold_px - 3, camera.matrix(1, 2)}));
    CHECK_FALSE(ray_from_pixel(camera, {fold_px + 3, camera.matrix(1, 2)}));
    pose.translation_mm[2] = -1;
    CHECK_FALSE(pixel_from_plane(camera, pose, {0, 0}));
}

TEST_CASE("A plane laid beside another lies in it, turned clockwise", "[sample_maker]") {
    const Pose first = tilted_pose();
    const Pose second = laid_beside(first, {50, 20}, CV_PI / 2);
    const Camera camera = bent_camera();
    const auto at = [&](const Pose& pose, cv::Point2d mm) { return *pixel_from_plane(camera, pose, mm); };
    CHECK(cv::norm(at(second, {0, 0}) - at(first, {50, 20})) < 1e-9);
    // A quarter clockwise with y down: the second's x runs along the first's y.
    CHECK(cv::norm(at(second, {10, 0}) - at(first, {50, 30})) < 1e-9);
    CHECK(cv::norm(at(second, {0, 10}) - at(first, {40, 20})) < 1e-9);
}
