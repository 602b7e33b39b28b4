// Where edges lie in a made picture, measured on its grey levels and judged by cv::projectPoints.
#include "sample_maker/paint.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <map>
#include <opencv2/calib3d.hpp>

#include "errors.h"
#include "sample_maker/detect.h"
#include "sample_maker/random_pose.h"

using namespace stripbook::sample_maker;
using namespace stripbook::test;
using stripbook::number::BookCode;
using stripbook::number::TagNumber;

namespace {

Scene clean_scene(std::array<double, 4> distortion) {
    Scene scene;
    scene.camera = plain_camera({1600, 1200});
    scene.camera.distortion = distortion;
    scene.background = {BackgroundKind::flat, 50, 0};
    return scene;
}

std::vector<cv::Point2d> projected(const Scene& scene, const Item& item,
                                   const std::vector<cv::Point2d>& face_mm) {
    std::vector<cv::Point3d> points;
    points.reserve(face_mm.size());
    for (const cv::Point2d& p : face_mm) {
        points.emplace_back(p.x * item.print_scale[0], p.y * item.print_scale[1], 0);
    }
    cv::Vec3d turn;
    cv::Rodrigues(item.camera_from_plane.rotation, turn);
    std::vector<double> distortion(scene.camera.distortion.begin(), scene.camera.distortion.end());
    std::vector<cv::Point2d> pixels;
    cv::projectPoints(points, turn, item.camera_from_plane.translation_mm, scene.camera.matrix, distortion,
                      pixels);
    return pixels;
}

struct EdgeError {
    double mean_px = 0;
    double worst_px = 0;
    int columns = 0;
};

// How far the picture's edge lies from the projected one, across the axis it is closer to being square to. In
// a column of pixels the levels, as shares of the step from `below` to `above`, add up to the length on the
// one side: exact where each pixel is the mean of its square. `reach` pixels either side must hold nothing
// but this edge.
EdgeError edge_error(const cv::Mat1f& picture, const std::vector<cv::Point2d>& edge_px, double level_first,
                     double level_last, int reach) {
    const cv::Point2d along = edge_px.back() - edge_px.front();
    const bool flat = std::abs(along.x) > std::abs(along.y);
    const auto u = [&](cv::Point2d p) { return flat ? p.x : p.y; };
    const auto v = [&](cv::Point2d p) { return flat ? p.y : p.x; };
    std::vector<cv::Point2d> edge = edge_px;
    std::sort(edge.begin(), edge.end(), [&](cv::Point2d a, cv::Point2d b) { return u(a) < u(b); });
    EdgeError error;
    // Clear of both ends, where the neighbouring edges come in.
    for (int column = static_cast<int>(u(edge.front())) + 2 * reach; column < u(edge.back()) - 2 * reach;
         ++column) {
        const auto next = std::lower_bound(edge.begin(), edge.end(), column,
                                           [&](cv::Point2d p, double at) { return u(p) < at; });
        const cv::Point2d before = *(next - 1);
        const double truth =
            v(before) + (v(*next) - v(before)) * (column - u(before)) / (u(*next) - u(before));
        const int first = static_cast<int>(std::lround(truth)) - reach;
        double length = 0;  // on the first side, from first - 0.5
        for (int row = first; row <= first + 2 * reach; ++row) {
            const double level = flat ? picture(row, column) : picture(column, row);
            length += (level - level_last) / (level_first - level_last);
        }
        const double off = first - 0.5 + length - truth;
        error.mean_px += off;
        error.worst_px = std::max(error.worst_px, std::abs(off));
        ++error.columns;
    }
    error.mean_px /= std::max(1, error.columns);
    return error;
}

std::vector<cv::Point2d> line_mm(cv::Point2d from, cv::Point2d to) {
    std::vector<cv::Point2d> points;
    constexpr int steps = 400;
    for (int i = 0; i <= steps; ++i) {
        points.push_back(from + (to - from) * (static_cast<double>(i) / steps));
    }
    return points;
}

// All four edges of a rectangle on the face, clockwise from its upper left corner.
void check_edges(const cv::Mat1f& picture, const Scene& scene, const Item& item, const cv::Rect2d& box_mm,
                 double inside, double outside) {
    const cv::Point2d middle = projected(scene, item, {(box_mm.tl() + box_mm.br()) / 2}).front();
    const std::array<cv::Point2d, 5> corners{
        {box_mm.tl(), {box_mm.br().x, box_mm.y}, box_mm.br(), {box_mm.x, box_mm.br().y}, box_mm.tl()}};
    for (std::size_t i = 0; i < 4; ++i) {
        const auto edge = projected(scene, item, line_mm(corners[i], corners[i + 1]));
        const cv::Point2d half_way = edge[edge.size() / 2];
        const cv::Point2d along = edge.back() - edge.front();
        const bool flat = std::abs(along.x) > std::abs(along.y);
        const bool inside_last = flat ? middle.y > half_way.y : middle.x > half_way.x;
        const EdgeError error =
            edge_error(picture, edge, inside_last ? outside : inside, inside_last ? inside : outside, 5);
        CAPTURE(i, error.columns, error.worst_px);
        CHECK(error.columns > 20);
        CHECK(std::abs(error.mean_px) < 0.01);
        CHECK(error.worst_px < 0.05);
    }
}

const std::array<std::array<double, 4>, 3> lenses{
    {{0, 0, 0, 0}, {-0.2, 0, 0, 0}, {0.1, -0.03, 0.002, -0.003}}};

}  // namespace

TEST_CASE("The edges of a sheet lie where cv::projectPoints puts them, to 0.01 px", "[sample_maker]") {
    Dice dice(7);
    for (const auto& lens : lenses) {
        for (int i = 0; i < 6; ++i) {
            Scene scene = clean_scene(lens);
            Item item{PlainFace{{120, 60}}, {}};
            item.paper_grey = 200;
            item.camera_from_plane =
                random_pose(scene.camera, {120, 60}, {dice.between(1.5, 5), 25, 20}, dice);
            scene.items.push_back(item);
            CAPTURE(lens[0], i);
            check_edges(light_of(scene), scene, item, {0, 0, 120, 60}, 200, 50);
        }
    }
}

TEST_CASE("Edges along the pixel rows lie right at any fraction of a pixel", "[sample_maker]") {
    for (const double fraction : {0.0, 0.13, 0.25, 0.4, 0.5, 0.77}) {
        Scene scene = clean_scene(lenses[0]);
        Item item{PlainFace{{120, 60}}, {}};
        item.paper_grey = 200;
        item.camera_from_plane =
            pose_of(scene.camera, {120, 60}, {0, 0, 0, {700 + fraction, 500 + fraction}}, 3.1);
        scene.items.push_back(item);
        CAPTURE(fraction);
        check_edges(light_of(scene), scene, item, {0, 0, 120, 60}, 200, 50);
    }
}

TEST_CASE("Printed edges lie where cv::projectPoints puts them, to 0.01 px", "[sample_maker]") {
    Dice dice(8);
    for (const auto& lens : lenses) {
        for (int i = 0; i < 6; ++i) {
            Scene scene = clean_scene(lens);
            Item item{TagFace{TagNumber(BookCode::from_typed("PET"), 417)}, {}};
            item.paper_grey = 210;
            item.ink_grey = 20;
            item.camera_from_plane =
                random_pose(scene.camera, {120, 60}, {dice.between(5, 6.5), 15, 5}, dice);
            scene.items.push_back(item);
            CAPTURE(lens[0], i);
            const cv::Mat1f picture = light_of(scene);
            check_edges(picture, scene, item, {16, 3, 16, 16}, 20, 210);    // fiducial 0's black square
            check_edges(picture, scene, item, {101, 41, 16, 16}, 20, 210);  // fiducial 2's
        }
    }
}

TEST_CASE(
    "With k1 = -0.2 the fiducials that libapriltag sees lie where cv::projectPoints puts them, to 0.05 px",
    "[sample_maker]") {
    // In the picture's corners the lens moves everything by about 30 px. One detection is good to 0.05 px in
    // the mean; over nine pictures that differ by thirds of a pixel and in their turn the detector's own lean
    // cancels. The fiducials are 31 px small: the detector fits straight lines, and where a lens bends the
    // sides of large ones (100 px), it puts the corners 0.1 px too far out.
    constexpr int pictures = 9;
    for (const cv::Point2d place : {cv::Point2d(180, 150), {1420, 150}, {1420, 1050}, {180, 1050}}) {
        std::map<int, std::array<cv::Point2d, 4>> off;
        for (int i = 0; i < pictures; ++i) {
            Scene scene = clean_scene({-0.2, 0, 0, 0});
            scene.blur_sigma_px = 0.6;
            const int row = i / 3;
            const cv::Point2d shift(i % 3 / 3.0, row / 3.0);
            const Item item{MarkerFace{"pocket", 1},
                            pose_of(scene.camera, {85.6, 53.98}, {8.0 * i + 5, 8, 30, place + shift}, 2.2)};
            scene.items.push_back(item);
            const auto all = detect(picture_of(scene), "tag25h9");
            for (const PrintedFiducial& fiducial : face_fiducials(item.face)) {
                const auto seen = corners_in_our_frame(seen_once(all, fiducial.identity));
                const auto truth =
                    projected(scene, item, {fiducial.corners_mm.begin(), fiducial.corners_mm.end()});
                for (std::size_t k = 0; k < 4; ++k) {
                    off[fiducial.identity][k] += (seen[k] - truth[k]) / pictures;
                }
            }
        }
        REQUIRE(off.size() == 4);
        for (const auto& [identity, corners] : off) {
            for (const cv::Point2d& mean_off : corners) {
                CAPTURE(place, identity, mean_off);
                CHECK(cv::norm(mean_off) < 0.05);
            }
        }
    }
}

TEST_CASE("A face seen from behind shows nothing, one that reaches behind the camera is refused",
          "[sample_maker]") {
    Scene scene = clean_scene(lenses[0]);
    Item item{PlainFace{{120, 60}}, {}};
    cv::Rodrigues(cv::Vec3d(0, CV_PI, 0), item.camera_from_plane.rotation);
    item.camera_from_plane.translation_mm = {60, -30, 300};
    scene.items.push_back(item);
    double darkest = 0;
    double brightest = 0;
    cv::minMaxLoc(light_of(scene), &darkest, &brightest);
    CHECK(brightest == Approx(50));
    scene.items[0].camera_from_plane.translation_mm = {0, 0, -10};
    CHECK_THROWS_AS(light_of(scene), stripbook::WrongUse);
}

TEST_CASE("The print scale makes the small tag and the stretched print", "[sample_maker]") {
    Scene scene = clean_scene(lenses[0]);
    Item item{PlainFace{{120, 60}}, {}};
    item.paper_grey = 200;
    item.print_scale = {0.6, 0.63};
    CHECK(printed_size_mm(item) == cv::Size2d(72, 37.8));
    item.camera_from_plane = pose_of(scene.camera, printed_size_mm(item), {20, 10, 45, {800, 600}}, 4);
    scene.items.push_back(item);
    check_edges(light_of(scene), scene, item, {0, 0, 120, 60}, 200, 50);
}
