// Corners that the tracing cut off, carried on where the picture shows them.
#include "measure/sharp_corners.h"

#include <algorithm>

#include <catch2/catch.hpp>
#include <opencv2/imgproc.hpp>

#include "drawn_outline.h"

using namespace stripbook::measure;

namespace {

constexpr double left = 100;
constexpr double top = 120;
constexpr double right = 420;
constexpr double bottom = 480;

// A dark plate on light ground, its corners round to this radius.
cv::Mat3b plate(double radius_px) {
    constexpr int finer = 4;
    cv::Mat1b large(600 * finer, 540 * finer, uchar{190});
    const int r = cvRound(radius_px * finer);
    const cv::Rect box(static_cast<int>(left * finer), static_cast<int>(top * finer),
                       static_cast<int>((right - left) * finer), static_cast<int>((bottom - top) * finer));
    cv::rectangle(large, {box.x + r, box.y, box.width - 2 * r, box.height}, 90, cv::FILLED);
    cv::rectangle(large, {box.x, box.y + r, box.width, box.height - 2 * r}, 90, cv::FILLED);
    for (const int x : {box.x + r, box.x + box.width - r}) {
        for (const int y : {box.y + r, box.y + box.height - r}) {
            cv::circle(large, {x, y}, r, 90, cv::FILLED);
        }
    }
    cv::Mat1b grey;
    cv::resize(large, grey, {}, 1.0 / finer, 1.0 / finer, cv::INTER_AREA);
    cv::GaussianBlur(grey, grey, {}, 0.8);
    cv::Mat3b picture;
    cv::cvtColor(grey, picture, cv::COLOR_GRAY2BGR);
    return picture;
}

// Along the plate's sides, each corner cut off over `cut_px`.
std::vector<EdgePoint> cut_outline(double cut_px) {
    const double l = left - 0.5;  // pixel centres at whole numbers
    const double t = top - 0.5;
    const double r = right - 0.5;
    const double b = bottom - 0.5;
    const std::vector<cv::Point2d> corners = {{l + cut_px, t}, {r - cut_px, t}, {r, t + cut_px},
                                              {r, b - cut_px}, {r - cut_px, b}, {l + cut_px, b},
                                              {l, b - cut_px}, {l, t + cut_px}};
    return drawn_outline::along(corners);
}

// How far the outline ends from the plate's top right corner.
double from_corner_px(const std::vector<EdgePoint>& points) {
    double least = 1e9;
    for (const auto& point : points) {
        least = std::min(least, cv::norm(point.px - cv::Point2d(right - 0.5, top - 0.5)));
    }
    return least;
}

}  // namespace

TEST_CASE("A sharp corner that the tracing cut off is carried on to its tip", "[measure]") {
    const double cut_px = GENERATE(5.0, 12.0, 20.0);
    auto points = cut_outline(cut_px);
    const double before_px = from_corner_px(points);
    REQUIRE(before_px > 0.6 * cut_px);
    sharpen_corners(plate(0), points);
    INFO("cut off over " << cut_px << " px");
    CHECK(from_corner_px(points) < 0.6);
}

TEST_CASE("A corner that is round in the picture stays as it was traced", "[measure]") {
    // 1.5 to 3 mm on a usual photo.
    const double radius_px = GENERATE(7.0, 8.0, 10.0, 16.0);
    // A chord that touches the round corner from inside.
    auto points = cut_outline(radius_px * 0.586);
    const double before_px = from_corner_px(points);
    sharpen_corners(plate(radius_px), points);
    INFO("round to " << radius_px << " px");
    CHECK(from_corner_px(points) == Approx(before_px));
}

TEST_CASE("A disc has no corner to carry on", "[measure]") {
    cv::Mat3b picture(500, 500, cv::Vec3b(190, 190, 190));
    cv::circle(picture, {250, 250}, 120, cv::Scalar(90, 90, 90), cv::FILLED, cv::LINE_AA);
    std::vector<EdgePoint> points;
    constexpr int count = 500;
    for (int i = 0; i < count; ++i) {
        const double turn = 2 * CV_PI * i / count;
        EdgePoint point;
        point.outward = {std::cos(turn), std::sin(turn)};
        point.px = cv::Point2d(250, 250) + point.outward * 120.0;
        points.push_back(point);
    }
    const auto traced = points;
    sharpen_corners(picture, points);
    for (std::size_t i = 0; i < points.size(); ++i) {
        REQUIRE(cv::norm(points[i].px - traced[i].px) == 0);
    }
}
