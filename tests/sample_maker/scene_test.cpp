#include "sample_maker/scene.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <opencv2/imgproc.hpp>

#include "errors.h"
#include "sample_maker/random_pose.h"

using namespace stripbook::sample_maker;

namespace {

Scene scene_with(const Face& face, double px_per_mm) {
    Scene scene;
    scene.camera = plain_camera({640, 480});
    scene.background = {BackgroundKind::flat, 60, 0};
    Item item{face, pose_of(scene.camera, face_size_mm(face), {0, 0, 0, {319.5, 239.5}}, px_per_mm)};
    item.paper_grey = 200;
    scene.items.push_back(item);
    return scene;
}

// The sheet's middle by its brightness over the background.
cv::Point2d weight_centre(const cv::Mat1f& picture) {
    const cv::Moments m = cv::moments(cv::Mat(picture - 60));
    return {m.m10 / m.m00, m.m01 / m.m00};
}

}  // namespace

TEST_CASE("Same scene, same picture: another seed, another", "[sample_maker]") {
    Scene scene = scene_with(PlainFace{{100, 60}}, 3);
    scene.background.kind = BackgroundKind::noise;
    scene.background.contrast = 60;
    scene.noise_sigma = 5;
    scene.items[0].grime = 0.3;
    const cv::Mat1b first = picture_of(scene);
    CHECK(cv::norm(first, picture_of(scene), cv::NORM_INF) == 0);
    scene.seed = 2;
    CHECK(cv::norm(first, picture_of(scene), cv::NORM_L1) > 0);
}

TEST_CASE("Noise has the wished spread and moves no level", "[sample_maker]") {
    Scene scene = scene_with(PlainFace{{100, 60}}, 3);
    scene.noise_sigma = 4;
    cv::Scalar mean;
    cv::Scalar deviation;
    cv::meanStdDev(picture_of(scene)(cv::Rect(200, 180, 240, 120)), mean, deviation);
    CHECK(mean[0] == Approx(200).margin(0.2));
    CHECK(deviation[0] == Approx(4).margin(0.15));
}

TEST_CASE("Blur and shake spread the light but do not move it", "[sample_maker]") {
    Scene scene = scene_with(PlainFace{{60, 40}}, 3.3);
    const cv::Point2d sharp = weight_centre(light_of(scene));
    CHECK(cv::norm(sharp - cv::Point2d(319.5, 239.5)) < 0.005);
    scene.blur_sigma_px = 1.3;
    CHECK(cv::norm(weight_centre(light_of(scene)) - sharp) < 0.005);
    scene.shake = {9.7, 33};
    CHECK(cv::norm(weight_centre(light_of(scene)) - sharp) < 0.005);
}

TEST_CASE("Shake runs its length in its direction", "[sample_maker]") {
    Scene scene = scene_with(PlainFace{{60, 40}}, 3);
    scene.shake = {12, 0};
    const cv::Mat1f picture = light_of(scene);
    const auto between = [&](const cv::Mat& line) { return cv::countNonZero((line > 61) & (line < 199)); };
    // A box of 12 px makes a ramp of about 12 px on the left and on the right edge, none above and below.
    CHECK(between(picture.row(240)) == Approx(24).margin(4));
    CHECK(between(picture.col(320)) <= 2);
    scene.shake.direction_deg = 90;
    CHECK(between(light_of(scene).col(320)) == Approx(24).margin(4));
}

TEST_CASE("Gain multiplies the light and the sensor cuts at white", "[sample_maker]") {
    Scene scene = scene_with(PlainFace{{60, 40}}, 3);
    scene.gain = 2;
    CHECK(light_of(scene)(240, 320) == Approx(400));
    CHECK(picture_of(scene)(240, 320) == 255);
    CHECK(picture_of(scene)(5, 5) == 120);
}

TEST_CASE("Grime darkens about its share of the face", "[sample_maker]") {
    for (const double share : {0.1, 0.3, 0.6}) {
        Scene scene = scene_with(PlainFace{{100, 60}}, 4);
        scene.items[0].grime = share;
        // Half dirty takes 0.4 of the light.
        const cv::Mat1f face = light_of(scene)(cv::Rect(121, 121, 398, 238));
        const double dark = cv::countNonZero(face <= 200 * 0.6) / static_cast<double>(face.total());
        CAPTURE(share);
        CHECK(dark == Approx(share).margin(0.03));
    }
    Scene clean = scene_with(PlainFace{{100, 60}}, 4);
    CHECK(cv::countNonZero(light_of(clean)(cv::Rect(121, 121, 398, 238)) != 200) == 0);
}

TEST_CASE("Covers hide the share they say, and lie where they say", "[sample_maker]") {
    Dice dice(3);
    for (const double share : {0.05, 0.25, 0.5}) {
        Scene scene = scene_with(PlainFace{{100, 60}}, 4);
        scene.items[0].covers.push_back(cover_of_share({100, 60}, share, dice));
        CHECK(covered_share({100, 60}, scene.items[0].covers) == Approx(share).margin(0.003));
        const cv::Mat1f face = light_of(scene)(cv::Rect(120, 120, 400, 240));
        CHECK(cv::countNonZero(face < 140) / static_cast<double>(face.total()) == Approx(share).margin(0.01));
    }
    Scene scene = scene_with(PlainFace{{100, 60}}, 4);
    scene.items[0].covers.push_back({{{50, 0}, {100, 0}, {100, 60}, {50, 60}}, 90});
    CHECK(light_of(scene)(240, 420) == Approx(90));
    CHECK(light_of(scene)(240, 220) == Approx(200));
}

TEST_CASE("Glare adds light around its middle, on ink too", "[sample_maker]") {
    Scene scene = scene_with(PlainFace{{100, 60}}, 4);
    scene.items[0].glare = Glare{{25, 30}, 5, 0.5};
    const cv::Mat1f picture = light_of(scene);
    CHECK(picture(240, 220) == Approx(200 + 127.5).margin(1));
    CHECK(picture(240, 240) == Approx(200 + 127.5 * std::exp(-0.5)).margin(3));
    CHECK(picture(240, 420) == Approx(200).margin(0.1));
}

TEST_CASE("A scene that makes no sense is refused", "[sample_maker]") {
    const auto refused = [](auto change) {
        Scene scene = scene_with(PlainFace{{60, 40}}, 3);
        change(scene);
        CHECK_THROWS_AS(photo_file_of(scene), stripbook::WrongUse);
    };
    refused([](Scene& s) { s.camera.size_px = {0, 100}; });
    refused([](Scene& s) { s.blur_sigma_px = -1; });
    refused([](Scene& s) { s.blur_sigma_px = std::nan(""); });
    refused([](Scene& s) { s.shake.length_px = 1e6; });
    refused([](Scene& s) { s.noise_sigma = -1; });
    refused([](Scene& s) { s.gain = 0; });
    refused([](Scene& s) { s.jpeg_quality = 101; });
    refused([](Scene& s) { s.notes.orientation = 9; });
    refused([](Scene& s) { s.items[0].grime = 1.5; });
}

TEST_CASE("Every background keeps its mean level and its contrast", "[sample_maker]") {
    for (const char* name : {"flat", "gradient", "noise", "wood", "metal"}) {
        CAPTURE(name);
        const cv::Mat1f picture = draw_background({background_kind(name), 120, 60}, {1600, 1200}, 1);
        double darkest = 0;
        double brightest = 0;
        cv::minMaxLoc(picture, &darkest, &brightest);
        CHECK(cv::mean(picture)[0] == Approx(120).margin(6));
        CHECK(darkest >= 88);
        CHECK(brightest <= 152);
        CHECK((brightest - darkest > 40) == (std::string(name) != "flat"));
    }
    CHECK_THROWS_WITH(background_kind("grass"), Catch::Contains("wood"));
}
