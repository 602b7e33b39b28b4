// How libapriltag counts pixels and corners. Everything that reads its corners stands on this.
#include <catch2/catch.hpp>
#include <cmath>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>

#include "sample_maker/detect.h"
#include "sample_maker/modules.h"

using namespace stripbook::sample_maker;
using namespace stripbook::test;

namespace {

// A fiducial set pixel by pixel, nothing of the renderer in it: the black square fills columns 60 to 129 and
// rows 50 to 119. Its edges are at 59.5 and 129.5, 49.5 and 119.5 when whole numbers are pixel centres.
cv::Mat1b fiducial_by_hand() {
    const Modules modules = fiducial_modules(FiducialFamily::tag25h9, 4);
    cv::Mat1b picture(200, 200, uchar{255});
    for (int y = 0; y < 70; ++y) {
        for (int x = 0; x < 70; ++x) {
            if (modules(y / 10, x / 10) != 0) {
                picture(50 + y, 60 + x) = 0;
            }
        }
    }
    return picture;
}

// Mean of the corners of the picture and of the picture turned by half, mapped back (pixel x becomes width -
// x in a frame that starts at the pixel's corner). The detector's own lean to one side cancels out.
cv::Point2d middle_seen_both_ways(const cv::Mat1b& picture) {
    cv::Mat1b turned;
    cv::rotate(picture, turned, cv::ROTATE_180);
    cv::Point2d sum;
    for (const cv::Point2d& corner : seen_once(detect(picture, "tag25h9"), 4).corners) {
        sum += corner;
    }
    for (const cv::Point2d& corner : seen_once(detect(turned, "tag25h9"), 4).corners) {
        sum += cv::Point2d(picture.cols - corner.x, picture.rows - corner.y);
    }
    return sum / 8;
}

}  // namespace

TEST_CASE("libapriltag has (0, 0) at the upper left corner of the first pixel: ours is half a pixel less",
          "[sample_maker]") {
    // From the pixel's corner the square reaches from 60 to 130 and 50 to 120: middle (95, 85). Were whole
    // numbers its pixel centres, the middle would be (94.5, 84.5) and the picture turned back would not fit.
    const cv::Point2d middle = middle_seen_both_ways(fiducial_by_hand());
    CHECK(middle.x == Approx(95).margin(0.02));
    CHECK(middle.y == Approx(85).margin(0.02));
    const Seen seen = seen_once(detect(fiducial_by_hand(), "tag25h9"), 4);
    const auto ours = corners_in_our_frame(seen);
    // One detection alone is as good as 0.15 px.
    CHECK(cv::norm(ours[0] - cv::Point2d(59.5, 49.5)) < 0.2);
    CHECK(cv::norm(ours[1] - cv::Point2d(129.5, 49.5)) < 0.2);
    CHECK(cv::norm(ours[2] - cv::Point2d(129.5, 119.5)) < 0.2);
    CHECK(cv::norm(ours[3] - cv::Point2d(59.5, 119.5)) < 0.2);
}

TEST_CASE("Upright is as on the reference photographs, for both families and any turn", "[sample_maker]") {
    // Cut from reference photographs. Marker: the bench sheet's upper left fiducial, the sheet lying upright;
    // corners read off the picture by eye.
    const cv::Mat1b marker =
        cv::imread("tests/sample_maker/data/marker_fiducial_4.jpg", cv::IMREAD_GRAYSCALE);
    REQUIRE_FALSE(marker.empty());
    const auto upright = corners_in_our_frame(seen_once(detect(marker, "tag25h9"), 4));
    CHECK(cv::norm(upright[0] - cv::Point2d(21, 23)) < 3);
    CHECK(cv::norm(upright[2] - cv::Point2d(212, 227)) < 3);

    // The tag PET-00424-F lies turned clockwise by about 40 degrees. By the tag specification fiducial i is
    // turned by i x 90 degrees more, which its first side tells.
    const cv::Mat1b tag = cv::imread("tests/sample_maker/data/tag_00424.jpg", cv::IMREAD_GRAYSCALE);
    REQUIRE_FALSE(tag.empty());
    const auto all = detect(tag, "tag36h11");
    REQUIRE(all.size() == 4);
    const std::array<int, 4> identities{138, 387, 428, 571};  // of PET-00424, corners 0 to 3
    for (std::size_t i = 0; i < identities.size(); ++i) {
        const auto corners = corners_in_our_frame(seen_once(all, identities[i]));
        const cv::Point2d first_side = corners[1] - corners[0];
        const double turn_deg = std::atan2(first_side.y, first_side.x) * 180 / CV_PI;
        CAPTURE(i, turn_deg);
        CHECK(std::abs(std::remainder(turn_deg - 40 - 90.0 * static_cast<double>(i), 360)) < 3);
    }
}
