#include "sample_maker/truth.h"

#include <catch2/catch.hpp>

#include "errors.h"
#include "sample_maker/random_pose.h"

using namespace stripbook::sample_maker;
using nlohmann::json;
using stripbook::number::BookCode;
using stripbook::number::TagNumber;

namespace {

Scene scene_of(const Face& face, double px_per_mm, cv::Point2d middle) {
    Scene scene;
    scene.camera = plain_camera({1600, 1200});
    scene.items.push_back({face, pose_of(scene.camera, face_size_mm(face), {0, 0, 0, middle}, px_per_mm)});
    return scene;
}

double corner(const json& of, std::size_t which, std::size_t axis) {
    return of["corners_px_unrotated"][which][axis].get<double>();
}

}  // namespace

TEST_CASE("The digest is that of the published examples", "[sample_maker]") {
    // FIPS 180-4 examples
    CHECK(sha256_of("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    CHECK(sha256_of("") == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
}

TEST_CASE("A tag's truth: corners by hand, in the order top left, top right, bottom right, bottom left",
          "[sample_maker]") {
    // Frontal at 4 px/mm around pixel (800, 600): 480 x 240 px.
    Scene scene = scene_of(TagFace{TagNumber(BookCode::from_typed("PET"), 417)}, 4, {800, 600});
    scene.items[0].grime = 0.25;
    const json shot =
        truth_of_shot(scene, "abc", {"a.jpg", {"PET-00417"}, "A1", "2026-03-20T08:58:15.530", "mixed"});
    CHECK(shot["file"] == "a.jpg");
    CHECK(shot["belongs_to"] == json({"PET-00417"}));
    CHECK(shot["K"][0][0] == 1920.0);
    const json& tag = shot["tags"][0];
    CHECK(tag["payload"] == "PET-00417-D");
    CHECK(tag["px_per_mm"] == 4.0);
    CHECK(tag["grime"] == 0.25);
    CHECK(tag["covered"] == 0.0);
    CHECK(tag["whole_in_frame"] == true);
    const std::array<cv::Point2d, 4> expected{{{560, 480}, {1040, 480}, {1040, 720}, {560, 720}}};
    for (std::size_t i = 0; i < 4; ++i) {
        CHECK(corner(tag, i, 0) == Approx(expected[i].x));
        CHECK(corner(tag, i, 1) == Approx(expected[i].y));
    }
    // Fiducial 1, centre (109, 11), turned a quarter: its own upper left corner is the upper right one, (117,
    // 3) mm.
    CHECK(tag["fiducials"][1]["identity"] == 373);
    CHECK(corner(tag["fiducials"][1], 0, 0) == Approx(560 + 117 * 4));
    CHECK(corner(tag["fiducials"][1], 0, 1) == Approx(480 + 3 * 4));
}

TEST_CASE("A tag that sticks out of the picture is not whole", "[sample_maker]") {
    const Scene scene = scene_of(TagFace{TagNumber(BookCode::from_typed("PET"), 417)}, 4, {239, 600});
    CHECK(truth_of_shot(scene, "", {})["tags"][0]["whole_in_frame"] == false);
}

TEST_CASE("Markers, stage cards, QR codes and flat parts have their lists", "[sample_maker]") {
    Scene scene = scene_of(MarkerFace{"pocket", 1}, 4, {800, 600});
    scene.items.push_back({StageFace{"cleaned"}, scene.items[0].camera_from_plane});
    scene.items.push_back({QrFace{"R/PET-00417-D"}, scene.items[0].camera_from_plane});
    scene.items.push_back({PlainFace{{80, 50}}, scene.items[0].camera_from_plane});
    const json shot = truth_of_shot(scene, "", {});
    REQUIRE(shot["cards"].size() == 1);
    CHECK(shot["cards"][0]["name"] == "pocket");
    CHECK(shot["cards"][0]["identities"].size() == 4);
    // Identity 1 at (75.6, 10) mm, side 14: its upper left corner is 68.6, 3 mm from the sheet's.
    const json& one = shot["cards"][0]["identities"]["1"];
    CHECK(one[0][0].get<double>() == Approx(800 - 85.6 * 2 + 68.6 * 4));
    CHECK(one[0][1].get<double>() == Approx(600 - 53.98 * 2 + 3 * 4));
    CHECK(shot["stages"][0]["stage"] == "cleaned");
    CHECK(shot["stages"][0]["fiducials"][1]["identity"] == 29);
    CHECK(shot["qr"][0]["text"] == "R/PET-00417-D");
    CHECK(shot["parts"][0]["w"] == 80.0);
    CHECK(shot["tags"].empty());
}

TEST_CASE("Truth of an item behind the camera is refused", "[sample_maker]") {
    Scene scene = scene_of(PlainFace{{80, 50}}, 4, {800, 600});
    scene.items[0].camera_from_plane.translation_mm[2] = -5;
    CHECK_THROWS_AS(truth_of_shot(scene, "", {}), stripbook::WrongUse);
}
