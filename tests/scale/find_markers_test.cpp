#include "scale/find_markers.h"

#include <catch2/catch.hpp>

#include "number/marker_layout.h"

using namespace stripbook;
using fiducial::Fiducial;

namespace {

// The fiducials of a sheet as a camera would see them, through a known plane, without a picture.
std::vector<Fiducial> seen_through(const cv::Matx33d& photo_from_sheet, const number::MarkerLayout& layout) {
    std::vector<Fiducial> found;
    const auto mapped = [&](double x, double y) {
        const cv::Vec3d v = photo_from_sheet * cv::Vec3d(x, y, 1);
        return cv::Point2d(v[0] / v[2], v[1] / v[2]);
    };
    for (const auto& f : layout.fiducials) {
        const double h = layout.fiducial_side / 2;
        Fiducial seen;
        seen.family = fiducial::Family::tag25h9;
        seen.identity = f.identity;
        seen.centre = mapped(f.centre.x, f.centre.y);
        seen.corners = {mapped(f.centre.x - h, f.centre.y - h), mapped(f.centre.x + h, f.centre.y - h),
                        mapped(f.centre.x + h, f.centre.y + h), mapped(f.centre.x - h, f.centre.y + h)};
        found.push_back(seen);
    }
    return found;
}

const cv::Matx33d tilted(4.1, -0.6, 300, 0.5, 3.8, 200, 1e-4, 2e-4, 1);

}  // namespace

TEST_CASE("The layouts are those of the marker specification", "[scale]") {
    const auto& layouts = number::marker_layouts();
    REQUIRE(layouts.size() == 3);
    CHECK(layouts[0].fiducials.size() == 4);
    CHECK(layouts[1].fiducials.size() == 8);
    REQUIRE(layouts[2].fiducials.size() == 16);
    // Spot values written down from the specification: the mat runs clockwise around its edge from (34, 34).
    const auto at = [&](std::size_t i) { return layouts[2].fiducials[i]; };
    CHECK((at(0).identity == 12 && at(0).centre.x == 34 && at(0).centre.y == 34));
    CHECK((at(4).identity == 16 && at(4).centre.x == 807 && at(4).centre.y == 34));
    CHECK((at(8).identity == 20 && at(8).centre.x == 807 && at(8).centre.y == 560));
    CHECK((at(12).identity == 24 && at(12).centre.x == 34 && at(12).centre.y == 560));
    CHECK((at(15).identity == 27 && at(15).centre.x == 34 && at(15).centre.y == 165.5));
    CHECK(number::marker_with_identity(28) == nullptr);
    CHECK(number::stage_of_identity(28) == "as-removed");
    CHECK(number::stage_of_identity(34) == "refitted");
    CHECK_FALSE(number::stage_of_identity(27));
    CHECK_FALSE(number::stage_of_identity(35));
}

TEST_CASE("Each kind of marker is found and its sheet's corners are where the plane puts them", "[scale]") {
    for (const auto& layout : number::marker_layouts()) {
        const auto reading = scale::find_markers(seen_through(tilted, layout));
        REQUIRE(reading.markers.size() == 1);
        CHECK(reading.markers[0].kind == layout.kind);
        CHECK(reading.markers[0].fiducials == static_cast<int>(layout.fiducials.size()));
        const cv::Vec3d far = tilted * cv::Vec3d(layout.width, layout.height, 1);
        CHECK(reading.markers[0].corners[2].x == Approx(far[0] / far[2]).margin(0.01));
        CHECK(reading.markers[0].corners[2].y == Approx(far[1] / far[2]).margin(0.01));
    }
}

TEST_CASE("One fiducial, fiducials that fit no sheet, and two sheets of a kind are no marker", "[scale]") {
    auto found = seen_through(tilted, number::marker_layouts()[1]);
    CHECK(scale::find_markers({found[0]}).markers.empty());
    CHECK(scale::find_markers({found[0], found[5]}).markers.size() == 1);
    auto bent = found;
    for (auto& corner : bent[3].corners) {
        corner += cv::Point2d(60, 40);
    }
    CHECK(scale::find_markers(bent).markers.empty());
    auto twice = found;
    twice.push_back(found[2]);
    CHECK(scale::find_markers(twice).markers.empty());
}

TEST_CASE("A stage card counts with both of its fiducials", "[scale]") {
    Fiducial f;
    f.family = fiducial::Family::tag25h9;
    f.identity = 31;
    const auto one = scale::find_markers({f});
    REQUIRE(one.stage_cards.size() == 1);
    CHECK(one.stage_cards[0].stage == "blasted");
    CHECK_FALSE(one.stage_cards[0].confirmed);
    CHECK(scale::find_markers({f, f}).stage_cards[0].confirmed);
    f.family = fiducial::Family::tag36h11;
    CHECK(scale::find_markers({f}).stage_cards.empty());
}
