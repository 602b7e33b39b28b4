#include "fiducial/square.h"

#include <catch2/catch.hpp>
#include <opencv2/imgproc.hpp>

using namespace stripbook::fiducial;

namespace {

// A dark convex figure on paper: each pixel the mean of 8 x 8 samples of its square, then blurred as by a
// lens.
cv::Mat drawn(const Corners& corners) {
    constexpr int finer = 8;
    const auto is_inside = [&](const cv::Point2d& p) {
        for (std::size_t i = 0; i < 4; ++i) {
            const cv::Point2d side = corners[(i + 1) % 4] - corners[i];
            const cv::Point2d to = p - corners[i];
            if (side.x * to.y - side.y * to.x < 0) {
                return false;
            }
        }
        return true;
    };
    cv::Mat picture(120, 120, CV_8UC1);
    for (int y = 0; y < picture.rows; ++y) {
        for (int x = 0; x < picture.cols; ++x) {
            int dark = 0;
            for (int k = 0; k < finer * finer; ++k) {
                const cv::Point2d off((k % finer + 0.5) / finer - 0.5, (k / finer + 0.5) / finer - 0.5);
                dark += is_inside(cv::Point2d(x, y) + off) ? 1 : 0;
            }
            picture.at<uchar>(y, x) = cv::saturate_cast<uchar>(220 - 180.0 * dark / (finer * finer));
        }
    }
    cv::GaussianBlur(picture, picture, {}, 0.7);
    return picture;
}

double distance_to_nearest(const cv::Point2d& p, const Corners& corners) {
    double nearest = 1e9;
    for (const auto& c : corners) {
        nearest = std::min(nearest, cv::norm(c - p));
    }
    return nearest;
}

}  // namespace

TEST_CASE("A dark square on paper is one blob, and its corners lie on its edges", "[fiducial]") {
    for (const double degrees : {0.0, 11.0, 30.0, 45.0, 77.0}) {
        Corners truth;
        for (std::size_t i = 0; i < 4; ++i) {
            const double a = (degrees + 90.0 * static_cast<double>(i) - 135) * CV_PI / 180;
            truth[i] = cv::Point2d(60.3, 57.8) + cv::Point2d(std::cos(a), std::sin(a)) * 18;
        }
        const cv::Mat picture = drawn(truth);
        const auto blobs = dark_blobs(picture, {});
        REQUIRE(blobs.size() == 1);
        const auto rough = corners_of_blob(blobs[0]);
        REQUIRE(rough);
        const auto close = onto_edges(picture, *rough, 2, 48);
        REQUIRE(close);
        const auto exact = onto_edges(picture, *close, 2, 48);
        REQUIRE(exact);
        // 0.02 px on average over random places; edges along the pixel rows are the worst there is.
        for (const auto& corner : *exact) {
            CHECK(distance_to_nearest(corner, truth) < 0.11);
        }
        CHECK(mean_side(*exact) == Approx(18 * std::sqrt(2.0)).margin(0.12));
    }
}

TEST_CASE("Flat pictures hold no blob, and a disc is not four-sided enough to have exact corners",
          "[fiducial]") {
    CHECK(dark_blobs(cv::Mat(64, 64, CV_8UC1, cv::Scalar(90)), {}).empty());
    CHECK(dark_blobs(cv::Mat(5, 5, CV_8UC1, cv::Scalar(90)), {}).empty());
    cv::Mat disc(100, 100, CV_8UC1, cv::Scalar(220));
    cv::circle(disc, {50, 50}, 14, cv::Scalar(30), cv::FILLED, cv::LINE_AA);
    const auto blobs = dark_blobs(disc, {});
    REQUIRE(blobs.size() == 1);
    CHECK_FALSE(corners_of_blob(blobs[0]));
}
