// The photo's blur from the marker's squares. Truth: the drawing's own.
#include "measure/edge_blur.h"

#include <catch2/catch.hpp>
#include <opencv2/imgproc.hpp>

#include "drawn_light.h"
#include "measure/surroundings.h"
#include "plane_above.h"

using namespace stripbook;

namespace {

// Light of 0.85 and 0.03, averaged over a pixel and blurred, as sRGB levels.
cv::Mat3b photo_of(const scale::Plane& plane, double blur_px) {
    constexpr int fine = 4;
    cv::Mat1f light(1200 * fine, 1600 * fine, 0.85F);
    for (const auto& square : measure::printed_squares_mm(plane)) {
        std::vector<cv::Point> corners;
        for (const auto& mm : square) {
            const cv::Point2d px = *scale::pixel_from_plane(plane, mm, 0);
            corners.emplace_back((px + cv::Point2d(0.5, 0.5)) * static_cast<double>(fine) -
                                 cv::Point2d(0.5, 0.5));
        }
        cv::fillConvexPoly(light, corners, cv::Scalar(0.03));
    }
    cv::Mat1f small;
    cv::resize(light, small, {}, 1.0 / fine, 1.0 / fine, cv::INTER_AREA);
    cv::GaussianBlur(small, small, {}, blur_px);
    return drawn_light::photo_of(small, cv::Mat1f(small.size(), 0.F));
}

}  // namespace

TEST_CASE("The blur of a photo is read off the marker's squares", "[measure]") {
    const scale::Plane plane = plane_above();
    for (const double blur : {0.6, 0.9, 1.4}) {
        INFO("blurred by " << blur << " px");
        const double expected = std::sqrt(blur * blur + 1.0 / 12 + measure::interpolation_px2);
        CHECK(measure::edge_blur_px(photo_of(plane, blur), plane) == Approx(expected).margin(0.06));
    }
}

TEST_CASE("Without squares in the picture the blur is taken as a pixel", "[measure]") {
    CHECK(measure::edge_blur_px(cv::Mat3b(1200, 1600, cv::Vec3b(90, 90, 90)), plane_above()) == 1);
}
