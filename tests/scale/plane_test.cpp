#include "scale/plane.h"

#include <catch2/catch.hpp>
#include <opencv2/calib3d.hpp>

#include "number/marker_layout.h"
#include "sample_maker/random_pose.h"
#include "sample_maker/scene.h"

using namespace stripbook;
using namespace stripbook::sample_maker;

namespace {

Camera bent_camera() {
    Camera camera = plain_camera({1632, 1224});
    camera.distortion = {-0.05, 0.01, 0, 0};
    return camera;
}

scale::LensProfile lens_of(const Camera& camera) {
    scale::LensProfile lens = scale::lens_from_exif(std::nullopt, camera.size_px);
    lens.focal_px = camera.matrix(0, 0);
    lens.centre_px = {camera.matrix(0, 2), camera.matrix(1, 2)};
    lens.k1 = camera.distortion[0];
    lens.k2 = camera.distortion[1];
    lens.covariance = scale::LensCovariance::zeros();
    return lens;
}

Scene marker_scene(double tilt_deg, cv::Vec2d print_scale = {1, 1}) {
    Scene scene;
    scene.camera = bent_camera();
    scene.background = {BackgroundKind::flat, 90, 0};
    const MarkerFace face{"bench", 3};
    const Stance stance{5, tilt_deg, 40, {800, 600}};
    Item item{face, pose_of(scene.camera, face_size_mm(face), stance, 3.6)};
    item.print_scale = print_scale;
    scene.items.push_back(item);
    scene.blur_sigma_px = 0.7;
    scene.noise_sigma = 2;
    return scene;
}

// Corners as they lie, without a picture.
std::vector<fiducial::Fiducial> exact_fiducials(const Scene& scene) {
    std::vector<fiducial::Fiducial> found;
    for (const auto& printed : face_fiducials(scene.items[0].face)) {
        fiducial::Fiducial f;
        f.family = fiducial::Family::tag25h9;
        f.identity = printed.identity;
        for (std::size_t i = 0; i < 4; ++i) {
            f.corners[i] = *pixel_from_face(scene.camera, scene.items[0], printed.corners_mm[i]);
        }
        found.push_back(f);
    }
    return found;
}

}  // namespace

TEST_CASE("Exact corners give the plane that OpenCV's pose gives", "[scale]") {
    const Scene scene = marker_scene(20);
    const auto found = exact_fiducials(scene);
    const auto lens = lens_of(scene.camera);
    const auto reading = scale::find_plane(found, lens);
    REQUIRE(reading.plane);
    std::vector<cv::Point3d> sheet;
    std::vector<cv::Point2d> photo;
    const auto seen = scale::sheet_seen(found);
    for (std::size_t i = 0; i < seen->view.sheet_mm.size(); ++i) {
        sheet.emplace_back(seen->view.sheet_mm[i].x, seen->view.sheet_mm[i].y, 0);
        photo.push_back(seen->view.photo_px[i]);
    }
    cv::Vec3d rotation;
    cv::Vec3d translation;
    cv::solvePnP(sheet, photo, scene.camera.matrix,
                 std::vector<double>(scene.camera.distortion.begin(), scene.camera.distortion.end()),
                 rotation, translation);
    CHECK(cv::norm(reading.plane->rotation - rotation) < 1e-4);
    CHECK(cv::norm(reading.plane->translation_mm - translation) < 0.05);
    CHECK(reading.plane->tilt_deg == Approx(20).margin(2));
    CHECK(reading.plane->marker == "bench");
    CHECK(reading.plane->fiducials == 8);
}

TEST_CASE("A pixel, its place on the plane and the pixel of that place agree at any height", "[scale]") {
    const Scene scene = marker_scene(15);
    const auto reading = scale::find_plane(exact_fiducials(scene), lens_of(scene.camera));
    REQUIRE(reading.plane);
    for (const double height : {0.0, 12.0}) {
        const auto mm = scale::plane_from_pixel(*reading.plane, {700, 500}, height);
        REQUIRE(mm);
        const auto px = scale::pixel_from_plane(*reading.plane, *mm, height);
        REQUIRE(px);
        CHECK(cv::norm(*px - cv::Point2d(700, 500)) < 1e-6);
    }
}

TEST_CASE("What is taken for lying on the plane but lies higher comes out too long by h / (Z - h)",
          "[scale]") {
    // Similar triangles: h 12 mm, Z 750 mm: 1.626 % (2.927 mm on 180 mm).
    scale::Plane plane;
    plane.lens = scale::lens_from_exif(40, {3264, 2448});
    plane.translation_mm = {0, 0, 750};
    const auto a = scale::pixel_from_plane(plane, {-90, 0}, 12);
    const auto b = scale::pixel_from_plane(plane, {90, 0}, 12);
    const double flat =
        cv::norm(*scale::plane_from_pixel(plane, *b, 0) - *scale::plane_from_pixel(plane, *a, 0));
    CHECK(flat - 180 == Approx(2.927).margin(0.001));
    CHECK(scale::standpoint(plane).height_mm == Approx(750));
}

TEST_CASE("The plane of a made photo is right to a tenth of a pixel at the sheet's corners", "[scale]") {
    for (const double tilt : {0.0, 12.0, 25.0}) {
        const Scene scene = marker_scene(tilt);
        const auto found = fiducial::find_fiducials(picture_of(scene));
        const auto reading = scale::find_plane(found, lens_of(scene.camera));
        INFO(tilt << " degrees: " << reading.reason);
        REQUIRE(reading.plane);
        for (const cv::Point2d corner : {cv::Point2d(0, 0), {297, 0}, {297, 210}, {0, 210}}) {
            const auto truth = pixel_from_face(scene.camera, scene.items[0], corner);
            const auto seen = scale::pixel_from_plane(*reading.plane, corner, 0);
            CHECK(cv::norm(*truth - *seen) < 0.15);
        }
    }
}

TEST_CASE("A stretched print is put right by its correction", "[scale]") {
    const Scene scene = marker_scene(10, {1.01, 0.995});
    const scale::SheetCorrection correction{1.01, 0.995, 0.1 / 166};
    const auto reading = scale::find_plane(exact_fiducials(scene), lens_of(scene.camera), correction);
    REQUIRE(reading.plane);
    const auto a = pixel_from_plane(scene.camera, scene.items[0].camera_from_plane, {50, 50});
    const auto b = pixel_from_plane(scene.camera, scene.items[0].camera_from_plane, {250, 150});
    const double truth = std::hypot(200, 100);
    const double measured = cv::norm(*scale::plane_from_pixel(*reading.plane, *b, 0) -
                                     *scale::plane_from_pixel(*reading.plane, *a, 0));
    CHECK(measured == Approx(truth).margin(0.02));
    CHECK(scale::unmeasured_sheet().u_relative == Approx(0.02));
}

TEST_CASE("Planes that would mislead are refused with a reason", "[scale]") {
    const Scene scene = marker_scene(10);
    const auto lens = lens_of(scene.camera);
    auto found = exact_fiducials(scene);

    const auto none = scale::find_plane({}, lens);
    CHECK_FALSE(none.plane);
    CHECK(none.fault == scale::PlaneFault::no_marker);
    CHECK_FALSE(none.reason.empty());

    const auto one = scale::find_plane({found[0]}, lens);
    CHECK(one.fault == scale::PlaneFault::too_few_fiducials);

    auto twins = found;
    twins.push_back(found[0]);
    CHECK(scale::find_plane(twins, lens).fault == scale::PlaneFault::twins);

    auto bent = found;
    for (auto& corner : bent[2].corners) {
        corner += cv::Point2d(6, -5);
    }
    const auto reading = scale::find_plane(bent, lens);
    CHECK_FALSE(reading.plane);
    CHECK(reading.fault == scale::PlaneFault::bent);

    const Scene oblique = marker_scene(55);
    CHECK(scale::find_plane(exact_fiducials(oblique), lens).fault == scale::PlaneFault::too_oblique);
}

TEST_CASE("Squares printed fat or thin show as blooming, not as scale", "[scale]") {
    const Scene scene = marker_scene(5);
    auto found = exact_fiducials(scene);
    for (auto& f : found) {
        const cv::Point2d middle = (f.corners[0] + f.corners[2]) / 2;
        for (auto& corner : f.corners) {
            const cv::Point2d off = corner - middle;
            corner -= off * (0.3 * std::sqrt(2.0) / cv::norm(off));
        }
    }
    const auto reading = scale::find_plane(found, lens_of(scene.camera));
    REQUIRE(reading.plane);
    CHECK(reading.plane->bloom_px == Approx(0.3).margin(0.02));
    const auto truth = pixel_from_face(scene.camera, scene.items[0], {297, 210});
    CHECK(cv::norm(*truth - *scale::pixel_from_plane(*reading.plane, {297, 210}, 0)) < 0.02);
}
