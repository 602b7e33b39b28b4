#include "fiducial/find.h"

extern "C" {
#include <apriltag/apriltag.h>
#include <apriltag/tag25h9.h>
#include <apriltag/tag36h11.h>
}

#include <catch2/catch.hpp>
#include <opencv2/imgproc.hpp>

using namespace stripbook::fiducial;

namespace {

// An identity as our tags print it, each module `module_px` pixels, on white, then turned by `turns` quarter
// turns clockwise: the library's own drawing (one white module around the black square), turned by half.
cv::Mat drawn(apriltag_family_t* family, int identity, int module_px, int turns) {
    image_u8_t* image = apriltag_to_image(family, static_cast<uint32_t>(identity));
    cv::Mat modules(image->height, image->width, CV_8UC1, image->buf,
                    static_cast<std::size_t>(image->stride));
    cv::Mat big;
    cv::resize(modules, big, {}, module_px, module_px, cv::INTER_NEAREST);
    image_u8_destroy(image);
    cv::Mat framed;
    cv::copyMakeBorder(big, framed, 40, 40, 40, 40, cv::BORDER_CONSTANT, cv::Scalar(255));
    for (int i = 0; i < turns + 2; ++i) {
        cv::rotate(framed, framed, cv::ROTATE_90_CLOCKWISE);
    }
    return framed;
}

}  // namespace

TEST_CASE("Whole numbers are pixel centres: a drawn square's corners lie between pixels", "[fiducial]") {
    // White border of 40 pixels and one white module of 10: the black square begins with pixel 50, so its
    // edge is at 49.5, and it is 80 pixels wide.
    apriltag_family_t* family = tag36h11_create();
    for (int turns = 0; turns < 4; ++turns) {
        cv::Mat picture;
        cv::GaussianBlur(drawn(family, 131, 10, turns), picture, {}, 1.0);  // as a lens does
        const auto found = find_fiducials(picture);
        REQUIRE(found.size() == 1);
        CHECK(found[0].family == Family::tag36h11);
        CHECK(found[0].identity == 131);
        CHECK(found[0].centre.x == Approx(89.5).margin(0.05));
        CHECK(found[0].centre.y == Approx(89.5).margin(0.05));
        CHECK(found[0].side_px() == Approx(80).margin(0.3));
        const std::array<PointPx, 4> square{
            PointPx{49.5, 49.5}, {129.5, 49.5}, {129.5, 129.5}, {49.5, 129.5}};
        for (std::size_t i = 0; i < 4; ++i) {
            const PointPx expected = square[(i + static_cast<std::size_t>(turns)) % 4];
            CHECK(found[0].corners[i].x == Approx(expected.x).margin(0.05));
            CHECK(found[0].corners[i].y == Approx(expected.y).margin(0.05));
        }
    }
    tag36h11_destroy(family);
}

TEST_CASE("Every identity of both families is read back at three pixels a module", "[fiducial]") {
    apriltag_family_t* far = tag36h11_create();
    apriltag_family_t* near = tag25h9_create();
    REQUIRE(far->ncodes == 587);  // the size of the field that the tag code works in
    REQUIRE(near->ncodes == 35);
    int read = 0;
    for (auto* family : {far, near}) {
        for (int identity = 0; identity < static_cast<int>(family->ncodes); ++identity) {
            const auto found = find_fiducials(drawn(family, identity, 3, identity % 4));
            REQUIRE(found.size() == 1);
            read += found[0].identity == identity && (found[0].family == Family::tag36h11) == (family == far)
                        ? 1
                        : 0;
        }
    }
    CHECK(read == 587 + 35);
    tag36h11_destroy(far);
    tag25h9_destroy(near);
}

TEST_CASE("Nothing is found in an empty, a tiny or a random picture", "[fiducial]") {
    CHECK(find_fiducials(cv::Mat(300, 400, CV_8UC1, cv::Scalar(128))).empty());
    CHECK(find_fiducials(cv::Mat(1, 1, CV_8UC1, cv::Scalar(0))).empty());
    CHECK(find_fiducials(cv::Mat(3, 2000, CV_8UC1, cv::Scalar(0))).empty());
    cv::Mat noise(600, 800, CV_8UC1);
    cv::RNG random(7);
    random.fill(noise, cv::RNG::UNIFORM, 0, 256);
    CHECK(find_fiducials(noise).empty());
    CHECK_THROWS(find_fiducials(cv::Mat(100, 100, CV_8UC3)));
}

TEST_CASE("A cut-out of a larger picture is read by its own rows", "[fiducial]") {
    apriltag_family_t* family = tag36h11_create();
    cv::Mat page(400, 500, CV_8UC1, cv::Scalar(255));
    const cv::Mat one = drawn(family, 407, 10, 0);
    one.copyTo(page(cv::Rect(100, 100, one.cols, one.rows)));
    const auto found = find_fiducials(page(cv::Rect(90, 95, one.cols + 20, one.rows + 20)));
    REQUIRE(found.size() == 1);
    CHECK(found[0].identity == 407);
    CHECK(found[0].centre.x == Approx(89.5 + 10).margin(0.1));
    tag36h11_destroy(family);
}
