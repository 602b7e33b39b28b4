#include "sample_maker/random_pose.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "errors.h"
#include "sample_maker/outline.h"

using namespace stripbook::sample_maker;

TEST_CASE("Random poses keep scale, tilt and frame, and reach all turns and tilts", "[sample_maker]") {
    Camera camera = plain_camera({1600, 1200});
    camera.distortion = {-0.1, 0.02, 0.001, 0};
    Dice dice(1);
    double least_tilt = 90;
    double most_tilt = 0;
    std::array<int, 4> quarters{};
    for (int i = 0; i < 400; ++i) {
        const double wanted = dice.between(0.5, 5);
        const Pose pose = random_pose(camera, {120, 60}, {wanted, 30, 5}, dice);
        const auto corners = face_corners_px(camera, pose, {120, 60});
        REQUIRE(corners);
        CHECK(wholly_inside(*corners, camera.size_px, 5));
        CHECK(area_px(*corners) > 0);  // seen from its printed side
        CHECK(px_per_mm(*corners, {120, 60}) == Approx(wanted).epsilon(1e-6));
        CHECK(cv::determinant(pose.rotation) == Approx(1));
        const double tilt_deg = std::acos(pose.rotation(2, 2)) * 180 / CV_PI;
        least_tilt = std::min(least_tilt, tilt_deg);
        most_tilt = std::max(most_tilt, tilt_deg);
        const double turn = std::atan2(pose.rotation(1, 0), pose.rotation(0, 0));
        ++quarters[static_cast<std::size_t>((turn + CV_PI) / (CV_PI / 2)) % 4];
    }
    CHECK(least_tilt < 2);
    CHECK(most_tilt > 28);
    CHECK(most_tilt <= 30.0001);
    for (const int count : quarters) {
        CHECK(count > 60);
    }
}

TEST_CASE("A stance turns clockwise, tilts to its side and puts the middle where asked", "[sample_maker]") {
    const Camera camera = plain_camera({1600, 1200});
    const Pose turned = pose_of(camera, {120, 60}, {90, 0, 0, {500, 400}}, 2);
    const auto middle = pixel_from_plane(camera, turned, {60, 30});
    CHECK(cv::norm(*middle - cv::Point2d(500, 400)) < 1e-6);
    const auto corners = *face_corners_px(camera, turned, {120, 60});
    // A quarter clockwise brings the upper left corner to the upper right.
    CHECK(cv::norm(corners[0] - cv::Point2d(560, 280)) < 1e-3);
    CHECK(cv::norm(corners[1] - cv::Point2d(560, 520)) < 1e-3);
    // Direction 0 tilts the right side away: it looks smaller.
    const auto tilted =
        *face_corners_px(camera, pose_of(camera, {120, 60}, {0, 30, 0, {800, 600}}, 2), {120, 60});
    CHECK(cv::norm(tilted[2] - tilted[1]) < cv::norm(tilted[3] - tilted[0]));
}

TEST_CASE("A face that does not fit is refused", "[sample_maker]") {
    const Camera camera = plain_camera({1600, 1200});
    Dice dice(1);
    CHECK_THROWS_AS(random_pose(camera, {120, 60}, {20, 25}, dice), stripbook::WrongUse);
    CHECK_THROWS_AS(random_pose(camera, {120, 60}, {2, 95}, dice), stripbook::WrongUse);
    CHECK_THROWS_AS(random_pose(camera, {120, 60}, {std::nan(""), 5}, dice), stripbook::WrongUse);
}
