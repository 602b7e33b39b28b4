// One hole seen at an angle. Truth: rims put into the picture along rays from the camera, sample by sample.
#include "measure/hole_edge.h"

#include <catch2/catch.hpp>
#include <opencv2/imgproc.hpp>

#include "measure/find_holes.h"

using namespace stripbook::measure;

namespace {

constexpr double px_per_mm = 7;
constexpr double bore_mm = 6;  // radius
const cv::Point2d centre_mm(30, 30);
const cv::Point2d foot_mm(230, 90);
constexpr double camera_mm = 400;  // over the face

enum class Met { face, broken_edge, wall, bench };

// What the ray through a point of the face's plane meets. The bore's rim lies `chamfer` under the face.
Met met_at(cv::Point2d face_mm, double depth_mm, double chamfer_mm) {
    const auto where = [&](double below_mm) {
        return foot_mm + (face_mm - foot_mm) * ((camera_mm + below_mm) / camera_mm);
    };
    if (cv::norm(face_mm - centre_mm) > bore_mm + chamfer_mm) {
        return Met::face;
    }
    constexpr int steps = 400;
    for (int i = 0; i < steps; ++i) {
        const double below = depth_mm * i / steps;
        const double free_mm = bore_mm + std::max(0.0, chamfer_mm - below);
        if (cv::norm(where(below) - centre_mm) > free_mm) {
            return below < chamfer_mm ? Met::broken_edge : Met::wall;
        }
    }
    return Met::bench;
}

struct Shades {
    double face, broken_edge, wall, bench;
};

// The view lies at the bore's rim: `chamfer_mm` under the face.
FaceView view_of(double depth_mm, double chamfer_mm, const Shades& shades) {
    constexpr int fine = 3;
    constexpr int side = 420 * fine;
    cv::Mat1f grey(side, side);
    FaceView view;
    view.px_per_mm = px_per_mm;
    for (int y = 0; y < side; ++y) {
        for (int x = 0; x < side; ++x) {
            const cv::Point2d rim_mm =
                cv::Point2d((x + 0.5) / fine - 0.5, (y + 0.5) / fine - 0.5) / px_per_mm;
            const cv::Point2d face_mm = foot_mm + (rim_mm - foot_mm) * (camera_mm / (camera_mm + chamfer_mm));
            const Met met = met_at(face_mm, depth_mm, chamfer_mm);
            grey(y, x) = static_cast<float>(met == Met::face          ? shades.face
                                            : met == Met::broken_edge ? shades.broken_edge
                                            : met == Met::wall        ? shades.wall
                                                                      : shades.bench);
        }
    }
    cv::Mat small;
    cv::resize(grey, small, {}, 1.0 / fine, 1.0 / fine, cv::INTER_AREA);
    cv::GaussianBlur(small, small, {}, 0.8);
    cv::Mat noise(small.size(), CV_32F);
    cv::RNG dice(7);
    dice.fill(noise, cv::RNG::NORMAL, 0, 2);
    small += noise;
    cv::Mat1b bytes;
    small.convertTo(bytes, CV_8U);
    cv::Mat colour;
    cv::cvtColor(bytes, colour, cv::COLOR_GRAY2BGR);
    view.picture = colour;
    return view;
}

HoleLooks looks_at(double depth_mm, double chamfer_mm) {
    HoleLooks looks;
    looks.chamfer_mm = chamfer_mm;
    looks.sight = {foot_mm, camera_mm + chamfer_mm, depth_mm - chamfer_mm};
    return looks;
}

}  // namespace

TEST_CASE("A hole's wall in shadow does not make the hole smaller", "[measure]") {
    const Shades dark_wall{60, 60, 35, 200};
    for (const double depth : {0.8, 1.2, 3.0, 12.0}) {
        INFO(depth << " mm deep");
        const FaceView view = view_of(depth, 0, dark_wall);
        const auto hole = hole_edge(view, {centre_mm, 5.7, 0}, looks_at(depth, 0));
        REQUIRE(hole);
        CHECK(hole->circle_mm.radius == Approx(bore_mm).margin(0.06));
        CHECK(cv::norm(hole->circle_mm.centre - centre_mm) < 0.1);
        CHECK(hole->evidence > 0.7);
    }
}

TEST_CASE("The bore is found within a broken edge that shows as a ring", "[measure]") {
    const Shades ring{130, 80, 35, 175};
    const FaceView view = view_of(8, 0.5, ring);
    const auto hole = hole_edge(view, {centre_mm, 6.2, 0}, looks_at(8, 0.5));
    REQUIRE(hole);
    CHECK(hole->circle_mm.radius == Approx(bore_mm).margin(0.1));
}

TEST_CASE("A round stain with a soft edge is no hole", "[measure]") {
    FaceView view;
    view.px_per_mm = px_per_mm;
    const std::vector<cv::Point2d> outline{{2, 2}, {58, 2}, {58, 58}, {2, 58}};
    const auto with_edge = [&](double sigma_px) {
        cv::Mat3b picture(420, 420, cv::Vec3b(60, 90, 150));
        cv::circle(picture, {210, 210}, 42, cv::Scalar(45, 60, 95), cv::FILLED, cv::LINE_AA);
        cv::GaussianBlur(picture, picture, {}, sigma_px);
        view.picture = picture;
        return find_holes(view, outline, {}, looks_at(8, 0.5));
    };
    REQUIRE(with_edge(1).size() == 1);
    CHECK(with_edge(1)[0].circle_mm.radius == Approx(bore_mm).margin(0.1));
    CHECK(with_edge(4.5).empty());
}
