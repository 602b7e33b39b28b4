// The whole way from pixels to dimensions: rendered bench shots with exact truth, and made photos.
#include "measure/part.h"
#include "measure/surroundings.h"
#include "measure/upright.h"

#include <algorithm>

#include <catch2/catch.hpp>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>

#include "measure/by_hand.h"
#include "measure/overlay.h"
#include "sample_maker/part_scene.h"
#include "sample_maker/random_pose.h"
#include "sample_maker/scene.h"
#include "where.h"

using namespace stripbook;
using namespace stripbook::sample_maker;
using measure::DimensionKind;
using measure::PartMeasurement;

namespace {

// A flat plate of 100 x 60 mm, printed like a sheet, lying in the bench marker's frame.
struct MadeShot {
    Scene scene;
    cv::Mat grey;
    scale::Plane plane;
};

MadeShot made_shot(double tilt_deg, double plate_grey, cv::Point2d plate_at = {95, 70}) {
    MadeShot shot;
    Scene& scene = shot.scene;
    scene.camera = plain_camera({2000, 1500});
    scene.camera.distortion = {-0.03, 0, 0, 0};
    scene.background = {BackgroundKind::noise, 110, 40};
    const MarkerFace face{"bench", 3};
    Item marker{face, pose_of(scene.camera, face_size_mm(face), {3, tilt_deg, 70, {1000, 750}}, 5)};
    Item plate{PlainFace{{100, 60}}, laid_beside(marker.camera_from_plane, plate_at, 0.1)};
    plate.paper_grey = plate_grey;
    scene.items = {marker, plate};
    scene.blur_sigma_px = 0.8;
    scene.noise_sigma = 2;
    shot.grey = picture_of(scene);
    scale::LensProfile lens = scale::lens_from_exif(std::nullopt, scene.camera.size_px);
    lens.focal_px = scene.camera.matrix(0, 0);
    lens.k1 = -0.03;
    lens.covariance = scale::LensCovariance::diag({9, 4, 4, 1e-6, 1e-6});
    const auto reading = scale::find_plane(fiducial::find_fiducials(shot.grey), lens);
    REQUIRE(reading.plane);
    shot.plane = *reading.plane;
    return shot;
}

measure::PartOptions flat() {
    measure::PartOptions options;
    options.face_height_mm = 0;
    options.u_face_height_mm = 0.05;
    return options;
}

const measure::Dimension& of_kind(const PartMeasurement& part, DimensionKind kind) {
    const auto found = std::find_if(part.dimensions.begin(), part.dimensions.end(),
                                    [&](const auto& d) { return d.kind == kind; });
    REQUIRE(found != part.dimensions.end());
    return *found;
}

void draw_hole(MadeShot& shot, cv::Point2d at_mm, double diameter_mm) {
    constexpr int steps = 90;
    constexpr int fraction_bits = 4;
    std::vector<cv::Point> circle;
    for (int i = 0; i < steps; ++i) {
        const double turn = 2 * CV_PI * i / steps;
        const cv::Point2d mm = at_mm + diameter_mm / 2 * cv::Point2d(std::cos(turn), std::sin(turn));
        circle.emplace_back(*scale::pixel_from_plane(shot.plane, mm, 0) * (1 << fraction_bits));
    }
    cv::fillPoly(shot.grey, std::vector<std::vector<cv::Point>>{circle}, cv::Scalar(190), cv::LINE_AA,
                 fraction_bits);
}

std::ptrdiff_t how_many(const PartMeasurement& part, DimensionKind kind) {
    return std::count_if(part.dimensions.begin(), part.dimensions.end(),
                         [kind](const auto& d) { return d.kind == kind; });
}

std::ptrdiff_t notes_that_say(const PartMeasurement& part, const std::string& words) {
    return std::count_if(part.notes.begin(), part.notes.end(),
                         [&](const std::string& note) { return note.find(words) != std::string::npos; });
}

}  // namespace

TEST_CASE("A flat plate in the marker's frame is measured within its U", "[measure]") {
    for (const double tilt : {0.0, 15.0, 25.0}) {
        const MadeShot shot = made_shot(tilt, 70);
        const PartMeasurement part = measure::measure_part(shot.grey, shot.plane, flat());
        INFO(tilt << " degrees: " << part.reason);
        REQUIRE_FALSE(part.refusal);
        CHECK(part.inside_frame);
        CHECK(part.holes.empty());
        const auto& length = of_kind(part, DimensionKind::length);
        const auto& width = of_kind(part, DimensionKind::width);
        CHECK(std::abs(length.value - 100) < length.expanded());
        CHECK(std::abs(width.value - 60) < width.expanded());
        CHECK(std::abs(length.value - 100) < 0.15);
        CHECK(length.expanded() < 0.6);
        CHECK(of_kind(part, DimensionKind::area).value == Approx(6000).epsilon(0.005));
    }
}

TEST_CASE("A narrow tongue is not left out without a word", "[measure]") {
    for (const double thick_mm : {6.0, 4.0}) {
        MadeShot shot = made_shot(0, 70);
        const Pose& marker = shot.scene.items.front().camera_from_plane;
        // Out of the middle of the plate's right side, 30 mm.
        Item tongue{PlainFace{{40, thick_mm}}, laid_beside(marker, {95 + 90, 70 + 30 - thick_mm / 2}, 0.1)};
        tongue.paper_grey = 70;
        shot.scene.items.push_back(tongue);
        const PartMeasurement part = measure::measure_part(picture_of(shot.scene), shot.plane, flat());
        INFO(thick_mm << " mm thick: " << part.reason << part.outline_reason);
        // The plate alone is 100 mm long, with the tongue 130.
        CHECK((part.refusal || !part.outline_reason.empty() ||
               of_kind(part, DimensionKind::length).value > 125));
    }
}

TEST_CASE("A gasket on the marker's sheet comes out without its shadow, and a word says so", "[measure]") {
    MadeShot shot = made_shot(10, 225);
    PartScene scene;
    scene.flat = shot.scene;
    scene.flat.items.pop_back();  // the flat plate
    scene.flat.jpeg_quality = 93;
    scene.solid.outline = PlateOutline{100, 60, 7};
    scene.solid.holes = {{{-35, 0}, 9}, {{35, 0}, 9}};
    scene.solid.thickness = 1.6;
    scene.place_mm = {145, 100};
    scene.turn_rad = 0.2;
    // 50 degrees over the bench: the shadow is 1.34 mm long, the thickness times the cotangent.
    scene.lamps.towards = {-0.45, 0.455, 0.768};
    scene.part.clean.colour = cv::Vec3f::all(0.11F);  // a dark gasket's; paper 0.75
    scene.part.share = 0;
    scene.bench.clean.colour = cv::Vec3f::all(0.2F);
    scene.bench.share = 0;
    scene.exposure = 0.8;
    const std::string file = photo_file_of(scene);
    const cv::Mat picture = cv::imdecode(std::vector<char>(file.begin(), file.end()), cv::IMREAD_COLOR);
    measure::PartOptions options;
    options.face_height_mm = 1.6;
    options.u_face_height_mm = 0.05;
    const PartMeasurement part = measure::measure_part(picture, shot.plane, options);
    INFO(part.reason << part.outline_reason);
    REQUIRE_FALSE(part.refusal);
    REQUIRE(part.holes.size() == 2);
    const auto near = [](const measure::Dimension& dimension, double truth_mm) {
        CHECK(std::abs(dimension.value - truth_mm) < 0.3);
        CHECK(std::abs(dimension.value - truth_mm) < dimension.expanded());
    };
    near(of_kind(part, DimensionKind::length), 100);
    near(of_kind(part, DimensionKind::width), 60);
    near(of_kind(part, DimensionKind::hole_diameter), 9);
    near(of_kind(part, DimensionKind::centre_distance), 70);
    CHECK(std::any_of(part.notes.begin(), part.notes.end(), [](const auto& note) {
        return note.find("as dark as its shadow") != std::string::npos;
    }));
}

TEST_CASE("What is taken for a shadow beyond the edge is left out with a word", "[measure]") {
    MadeShot shot = made_shot(0, 70);
    const Pose& marker = shot.scene.items.front().camera_from_plane;
    // Darker than the plate, so that a clear edge runs beneath it; 30 mm out of its right side.
    Item strip{PlainFace{{40, 3}}, laid_beside(marker, {95 + 90, 70 + 28.5}, 0.1)};
    strip.paper_grey = 20;
    shot.scene.items.push_back(strip);
    const PartMeasurement part = measure::measure_part(picture_of(shot.scene), shot.plane, flat());
    INFO(part.reason << part.outline_reason);
    REQUIRE_FALSE(part.refusal);
    CHECK(of_kind(part, DimensionKind::length).value == Approx(100).margin(1));
    CHECK(std::any_of(part.notes.begin(), part.notes.end(), [](const std::string& note) {
        return note.find("taken for its shadow and left out") != std::string::npos;
    }));
}

TEST_CASE("A hole that came out unlike those like it has no diameter, and is said", "[measure]") {
    MadeShot shot = made_shot(5, 70);
    for (const double x : {125.0, 150.0, 175.0}) {
        draw_hole(shot, {x, 100}, 12);
    }
    draw_hole(shot, {150, 115}, 11.2);
    cv::GaussianBlur(shot.grey, shot.grey, {}, 0.7);
    const PartMeasurement part = measure::measure_part(shot.grey, shot.plane, flat());
    INFO(part.reason);
    REQUIRE_FALSE(part.refusal);
    REQUIRE(part.holes.size() == 4);
    for (const auto& d : part.dimensions) {
        if (d.kind == DimensionKind::hole_diameter) {
            CHECK(std::abs(d.value - 12) < d.expanded());
        }
    }
    CHECK(how_many(part, DimensionKind::hole_diameter) == 3);
    CHECK(notes_that_say(part, "has no diameter: it came out 0.8 mm smaller") == 1);
    for (std::size_t i = 0; i < part.dimensions.size(); ++i) {
        CHECK(part.dimensions[i].number == static_cast<int>(i) + 1);
    }
}

TEST_CASE("Holes of nearly one size that differ too much have no diameters, and keep their distances",
          "[measure]") {
    MadeShot shot = made_shot(5, 70);
    double diameter = 11.4;
    for (const double x : {125.0, 150.0, 175.0}) {
        draw_hole(shot, {x, 100}, diameter);
        diameter += 0.6;
    }
    cv::GaussianBlur(shot.grey, shot.grey, {}, 0.7);
    const PartMeasurement part = measure::measure_part(shot.grey, shot.plane, flat());
    INFO(part.reason);
    REQUIRE(part.holes.size() == 3);
    CHECK(how_many(part, DimensionKind::hole_diameter) == 0);
    CHECK(how_many(part, DimensionKind::centre_distance) == 3);
    CHECK(notes_that_say(part, "those like it came out too different") == 3);
}

TEST_CASE("A height that nobody told is carried as uncertainty and said", "[measure]") {
    const MadeShot shot = made_shot(10, 70);
    measure::PartOptions options;
    const PartMeasurement untold = measure::measure_part(shot.grey, shot.plane, options);
    REQUIRE_FALSE(untold.refusal);
    const auto& length = of_kind(untold, DimensionKind::length);
    // +-15 mm evenly at the camera's height: 15 / sqrt(3) / Z, twice.
    const double expected = 2 * length.value * 15 / std::sqrt(3.0) / scale::standpoint(shot.plane).height_mm;
    CHECK(length.expanded() > 0.8 * expected);
    CHECK(std::abs(length.value - 100) < length.expanded());
    REQUIRE(untold.notes.size() > 1);
}

TEST_CASE("A part over the marker's edge, and no part at all, give a reason and no number", "[measure]") {
    const MadeShot over = made_shot(5, 70, {240, 70});
    const PartMeasurement touching = measure::measure_part(over.grey, over.plane, flat());
    REQUIRE(touching.refusal);
    CHECK(touching.dimensions.empty());
    CHECK_FALSE(touching.reason.empty());

    MadeShot empty = made_shot(5, 70);
    empty.scene.items.pop_back();
    empty.scene.background = {BackgroundKind::flat, 110, 0};
    const PartMeasurement none = measure::measure_part(picture_of(empty.scene), empty.plane, flat());
    REQUIRE(none.refusal);
    CHECK(*none.refusal == measure::Refusal::no_part);
}

TEST_CASE("A part that lies under a tag on the sheet is refused: what is hidden would be cut off",
          "[measure]") {
    const MadeShot shot = made_shot(10, 70);
    const PartMeasurement clear = measure::measure_part(shot.grey, shot.plane, flat());
    REQUIRE_FALSE(clear.refusal);
    const auto rectangle_px = [&](cv::Point2d from_mm, cv::Point2d to_mm) {
        std::vector<cv::Point2d> corners;
        for (const auto& mm :
             {from_mm, cv::Point2d(to_mm.x, from_mm.y), to_mm, cv::Point2d(from_mm.x, to_mm.y)}) {
            corners.push_back(*scale::pixel_from_plane(shot.plane, mm, 0));
        }
        return corners;
    };
    // The plate lies from (95, 70) to (195, 130).
    auto options = flat();
    options.not_part_px = {rectangle_px({60, 80}, {110, 110})};
    const PartMeasurement under = measure::measure_part(shot.grey, shot.plane, options);
    REQUIRE(under.refusal);
    CHECK(*under.refusal == measure::Refusal::touches_marker);
    CHECK(under.dimensions.empty());
    options.not_part_px = {rectangle_px({40, 80}, {70, 110})};
    CHECK_FALSE(measure::measure_part(shot.grey, shot.plane, options).refusal);
}

TEST_CASE("Over the marker's squares a part is not measured, clear of them it is", "[measure]") {
    // The plate is turned by 0.1 rad: its upper right corner comes nearest to the square in the middle of the
    // right side.
    const auto clear_by = [](double clear_mm) {
        const cv::Point2d near = measure::printed_squares_mm(made_shot(0, 70).plane).at(3).front();
        constexpr double turn = 0.1;
        const cv::Point2d corner(near.x - clear_mm, near.y + 8);
        const MadeShot shot = made_shot(0, 70, corner - 100 * cv::Point2d(std::cos(turn), std::sin(turn)));
        return measure::measure_part(shot.grey, shot.plane, flat());
    };
    const PartMeasurement over = clear_by(-1);
    REQUIRE(over.refusal);
    CHECK(over.reason.find("too close to the black squares") != std::string::npos);
    for (const double clear_mm : {2.2, 4.0}) {
        const PartMeasurement clear = clear_by(clear_mm);
        INFO(clear.reason);
        REQUIRE_FALSE(clear.refusal);
        CHECK(std::abs(of_kind(clear, DimensionKind::width).value - 60) < 0.15);
    }
}

TEST_CASE("A thumbnail is refused, not measured", "[measure]") {
    const MadeShot shot = made_shot(5, 70);
    const PartMeasurement part =
        measure::measure_part(shot.grey(cv::Rect(0, 0, 120, 90)).clone(), shot.plane, flat());
    CHECK(part.refusal);
    CHECK_FALSE(part.reason.empty());
}

TEST_CASE("By hand: between two corners, snapped, and through a circle's points", "[measure]") {
    const MadeShot shot = made_shot(15, 70);
    const Item& plate = shot.scene.items[1];
    const auto at = [&](double x, double y) { return *pixel_from_face(shot.scene.camera, plate, {x, y}); };
    measure::ByHandOptions options;
    options.face_height_mm = 0;
    options.snap = false;
    const auto exact = measure::measure_between(shot.grey, shot.plane, at(0, 30), at(100, 30), options);
    REQUIRE(exact.dimension);
    CHECK(exact.dimension->value == Approx(100).margin(0.05));
    options.snap = true;
    const auto near = measure::measure_between(shot.grey, shot.plane, at(1, 30), at(98.7, 30), options);
    REQUIRE(near.dimension);
    CHECK(near.dimension->value == Approx(100).margin(0.3));
    CHECK(near.dimension->expanded() < 1);
    options.snap = false;
    const auto circle = measure::measure_circle(shot.grey, shot.plane,
                                                {at(30, 30), at(50, 10), at(70, 30), at(50, 50)}, options);
    REQUIRE(circle.dimension);
    CHECK(circle.dimension->value == Approx(40).margin(0.05));
    CHECK_FALSE(measure::measure_circle(shot.grey, shot.plane, {at(30, 30), at(50, 10)}, options).dimension);
    CHECK_FALSE(measure::measure_between(shot.grey, shot.plane, {-5, 0}, at(50, 10), options).dimension);
}

TEST_CASE("Upright pixels go back to stored ones for every EXIF orientation", "[measure]") {
    // A marked pixel of a picture that OpenCV itself turns by the tag: 6 is a quarter clockwise.
    cv::Mat1b stored(40, 70, uchar{0});
    stored(12, 55) = 255;
    cv::Mat1b upright;
    cv::rotate(stored, upright, cv::ROTATE_90_CLOCKWISE);
    cv::Point most;
    cv::minMaxLoc(upright, nullptr, nullptr, nullptr, &most);
    CHECK(measure::stored_from_upright(most, stored.size(), 6) == cv::Point2d(55, 12));
    cv::rotate(stored, upright, cv::ROTATE_90_COUNTERCLOCKWISE);
    cv::minMaxLoc(upright, nullptr, nullptr, nullptr, &most);
    CHECK(measure::stored_from_upright(most, stored.size(), 8) == cv::Point2d(55, 12));
    cv::rotate(stored, upright, cv::ROTATE_180);
    cv::minMaxLoc(upright, nullptr, nullptr, nullptr, &most);
    CHECK(measure::stored_from_upright(most, stored.size(), 3) == cv::Point2d(55, 12));
}

TEST_CASE("The overlay draws on a copy and comes back upright", "[measure]") {
    const MadeShot shot = made_shot(10, 70);
    const PartMeasurement part = measure::measure_part(shot.grey, shot.plane, flat());
    REQUIRE_FALSE(part.refusal);
    const cv::Mat before = shot.grey.clone();
    const cv::Mat drawn = measure::draw_overlay(shot.grey, part, 6);
    CHECK(cv::norm(before, shot.grey, cv::NORM_INF) == 0);
    CHECK(drawn.size() == cv::Size(shot.grey.rows, shot.grey.cols));
    CHECK(drawn.type() == CV_8UC3);
    // The outline's pixels are dark with light beside them.
    cv::Mat plain;
    cv::cvtColor(shot.grey, plain, cv::COLOR_GRAY2BGR);
    cv::rotate(plain, plain, cv::ROTATE_90_CLOCKWISE);
    CHECK(cv::norm(plain, drawn, cv::NORM_L1) > 1e5);
}

TEST_CASE("The demo's round flange beside the marker is measured as it was made", "[measure]") {
    // sample_images/truth.json: flange of 193.2 mm, 8 holes of 13.5 mm on 143.0 mm, face 16 mm high.
    const auto file = test::source_folder() / "sample_images/card-fv20/DCIM/102FERRO/FVA_0006.JPG";
    const cv::Mat colour = cv::imread(file.string(), cv::IMREAD_COLOR | cv::IMREAD_IGNORE_ORIENTATION);
    REQUIRE_FALSE(colour.empty());
    cv::Mat grey;
    cv::cvtColor(colour, grey, cv::COLOR_BGR2GRAY);
    const auto plane =
        scale::find_plane(fiducial::find_fiducials(grey), scale::lens_from_exif(60, colour.size()));
    REQUIRE(plane.plane);
    measure::PartOptions options;
    options.face_height_mm = 16;
    options.not_part_px = {{{654.6, 1883.5}, {1318.7, 1890.2}, {1317.4, 2219.9}, {655.5, 2212.3}}};
    const PartMeasurement part = measure::measure_part(colour, *plane.plane, options);
    INFO(part.reason);
    REQUIRE_FALSE(part.refusal);
    CHECK_FALSE(part.inside_frame);
    const auto& length = of_kind(part, DimensionKind::length);
    CHECK(std::abs(length.value - 193.2) < std::min(0.6, length.expanded()));
    const auto& bolts = of_kind(part, DimensionKind::bolt_circle);
    CHECK(bolts.holes.size() == 8);
    CHECK(std::abs(bolts.value - 143.0) < std::min(0.5, bolts.expanded()));
    // What the report's picture is cut to holds all of the part, and little else.
    const auto box_of = [](const std::vector<cv::Point2d>& px) {
        return cv::boundingRect(std::vector<cv::Point2f>(px.begin(), px.end()));
    };
    const cv::Rect around = box_of(part.around_px);
    const cv::Rect outline = box_of(part.outline_px);
    CHECK((around & outline).area() > 0.97 * outline.area());
    CHECK(around.area() < 1.2 * outline.area());
}
