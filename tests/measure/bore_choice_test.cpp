// Which circle is the bore. Truth: holes put into the picture along rays from the camera.
#include "measure/bore_choice.h"

#include <catch2/catch.hpp>

#include "drawn_hole.h"
#include "measure/bore_model.h"
#include "measure/edge_blur.h"

using namespace stripbook::measure;
using namespace drawn_hole;

namespace {

constexpr double px_per_mm = 5;
constexpr double chamfer_mm = 0.5;
const Shades steel{130, 95, 45, 190};

HoleLooks looks_at(double depth_mm) {
    HoleLooks looks;
    looks.chamfer_mm = chamfer_mm;
    looks.blur_px = std::sqrt(blur_px * blur_px + 1.0 / 12 + interpolation_px2);
    looks.sight = {foot_mm, camera_mm + chamfer_mm, depth_mm - chamfer_mm};
    return looks;
}

// The face's rim as seen at the bore's height: higher, so moved away from the camera's foot.
Circle face_rim() {
    const double scale = (camera_mm + chamfer_mm) / camera_mm;
    return {foot_mm + (centre_mm - foot_mm) * scale, (bore_mm + chamfer_mm) * scale, 0};
}

// Read as the one circle, while the other has an edge all around too.
HoleEdge read_as(const Circle& one, const Circle& other) {
    HoleEdge hole;
    hole.circle_mm = hole.second_mm = one;
    hole.others_mm = {one, other};
    return hole;
}

const Circle bore{centre_mm, bore_mm, 0};

}  // namespace

TEST_CASE("A hole read as its face's rim comes out as the bore that explains the picture", "[measure]") {
    for (const double depth : {4.0, 9.0, 20.0}) {
        INFO(depth << " mm deep");
        const FaceView view = view_of(depth, chamfer_mm, steel, px_per_mm);
        HoleEdge hole = read_as(face_rim(), bore);
        choose_bore(view, looks_at(depth), hole);
        CHECK(hole.circle_mm.radius == Approx(bore_mm).margin(0.08));
        CHECK(cv::norm(hole.circle_mm.centre - centre_mm) < 0.1);
        CHECK(hole.second_mm.radius == hole.circle_mm.radius);
    }
}

TEST_CASE("A hole read as its bore stays the bore beside its face's rim", "[measure]") {
    for (const double depth : {4.0, 9.0, 20.0}) {
        INFO(depth << " mm deep");
        const FaceView view = view_of(depth, chamfer_mm, steel, px_per_mm);
        HoleEdge hole = read_as(bore, face_rim());
        choose_bore(view, looks_at(depth), hole);
        CHECK(hole.circle_mm.radius == Approx(bore_mm).margin(0.08));
    }
}

namespace {

// A circle that lies on the bore's lower rim where the wall shows most, on the bore itself across from there.
Circle across(const Circle& lower) {
    const cv::Point2d towards = (lower.centre - centre_mm) / cv::norm(lower.centre - centre_mm);
    const double wall_mm = cv::norm(lower.centre - centre_mm) + bore_mm - lower.radius;
    return {centre_mm + towards * (wall_mm / 2), bore_mm - wall_mm / 2, 0};
}

}  // namespace

TEST_CASE("A hole read as its lower rim, or as that on one side, comes out as the bore", "[measure]") {
    // On a bright ground, with a face hardly paler than the wall, the lower rim is by far the clearest edge.
    const Shades dark{75, 70, 40, 225};
    struct Place {
        double beside_mm, depth_mm;
        bool nearly_above;  // the wall shows all around, the two circles nearly coincide
    };
    for (const auto& [beside_mm, depth, nearly_above] :
         {Place{4, 14, true}, {12, 9, false}, {12, 14, false}, {25, 9, false}}) {
        INFO(depth << " mm deep, seen from " << beside_mm << " mm beside it");
        Sight sight;
        sight.foot = centre_mm + (foot_mm - centre_mm) / cv::norm(foot_mm - centre_mm) * beside_mm;
        HoleLooks looks = looks_at(depth);
        looks.sight.foot_mm = sight.foot;
        // Similar triangles.
        const double scale = camera_mm / (camera_mm + depth);
        const Circle lower{sight.foot + (centre_mm - sight.foot) * scale, bore_mm * scale, 0};
        const FaceView view = view_of(depth, chamfer_mm, dark, px_per_mm, sight);
        for (const Circle& seen : {lower, nearly_above ? lower : across(lower)}) {
            HoleEdge hole = read_as(seen, seen);
            choose_bore(view, looks, hole);
            CHECK(hole.circle_mm.radius == Approx(bore_mm).margin(0.08));
            CHECK(cv::norm(hole.circle_mm.centre - centre_mm) < 0.1);
        }
    }
}

TEST_CASE("A circle far from the one read is no reading of the same hole, however well it explains",
          "[measure]") {
    const double depth = 9;
    const FaceView view = view_of(depth, chamfer_mm, steel, px_per_mm);
    const Circle read{centre_mm + cv::Point2d(1.2, 0), bore_mm - 1.2, 0};
    HoleEdge hole = read_as(read, bore);
    choose_bore(view, looks_at(depth), hole);
    CHECK(furthest_apart(hole.circle_mm, read) < 1.5);
}

TEST_CASE("In thin sheet no other circle than the two readings is the bore", "[measure]") {
    const double depth = 2;
    REQUIRE(is_thin(looks_at(depth).sight));
    const FaceView view = view_of(depth, chamfer_mm, steel, px_per_mm);
    HoleEdge alone = read_as(face_rim(), face_rim());
    HoleEdge beside = read_as(face_rim(), bore);
    choose_bore(view, looks_at(depth), alone);
    choose_bore(view, looks_at(depth), beside);
    CHECK(beside.circle_mm.radius == alone.circle_mm.radius);
}

TEST_CASE("Where another bore explains the picture as well, the hole tells how far off it is", "[measure]") {
    const double depth = 9;
    const Circle narrower{centre_mm, bore_mm - 0.5, 0};
    const Shades all_alike{95, 95, 94, 96};
    const auto otherwise_mm = [&](const Circle& one, const Circle& other, const Shades& shades) {
        HoleEdge hole = read_as(one, other);
        choose_bore(view_of(depth, chamfer_mm, shades, px_per_mm), looks_at(depth), hole);
        return hole.otherwise_mm;
    };
    CHECK(otherwise_mm(bore, narrower, steel) < 0.1);
    CHECK(otherwise_mm(narrower, bore, steel) < 0.1);
    CHECK(otherwise_mm(bore, narrower, all_alike) > 0.5);
    CHECK(otherwise_mm(narrower, bore, all_alike) > 0.5);
}

TEST_CASE("A second reading that explains as much stays one", "[measure]") {
    const double depth = 9;
    const FaceView view = view_of(depth, chamfer_mm, steel, px_per_mm);
    HoleEdge hole = read_as(bore, face_rim());
    hole.second_mm.radius += 0.1;
    choose_bore(view, looks_at(depth), hole);
    CHECK(cv::norm(hole.second_mm.centre - hole.circle_mm.centre) < 0.1);
    HoleEdge rim = read_as(bore, face_rim());
    rim.second_mm = face_rim();
    choose_bore(view, looks_at(depth), rim);
    CHECK(rim.second_mm.radius == rim.circle_mm.radius);
}
