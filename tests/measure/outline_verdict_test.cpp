// What counts against an outline in any case.
#include "measure/outline_verdict.h"

#include <catch2/catch.hpp>

#include "drawn_outline.h"
#include "plane_above.h"

using namespace stripbook;
using namespace stripbook::measure;

namespace {

constexpr double px_per_mm = 5;

// 80 by 50 mm in the middle of the sheet, read alike twice.
struct Clear {
    scale::Plane plane = plane_above();
    OutlineEdge edge;
    CleanOutline outline;

    Clear() {
        const cv::Point2d middle = plane.lens.centre_px;
        const cv::Point2d half(40 * px_per_mm, 25 * px_per_mm);
        edge.points = drawn_outline::along({middle - half,
                                            {middle.x + half.x, middle.y - half.y},
                                            middle + half,
                                            {middle.x - half.x, middle.y + half.y}});
        outline = clean_outline(edge, plane, {}, px_per_mm);
    }
    [[nodiscard]] std::string why_not() const {
        return verdict_on(outline, {edge, edge}, plane, {}, px_per_mm, 0).why_not;
    }
};

}  // namespace

TEST_CASE("A clear outline is trusted, one with a single grave fault is not", "[measure]") {
    Clear seen;
    REQUIRE(seen.outline.usable());
    CHECK(seen.why_not().empty());
    SECTION("a bit along a soft border is none") {
        seen.outline.soft_share = 0.05;
        CHECK(seen.why_not().empty());
    }
    SECTION("a tenth along a soft border: a shadow taken in") {
        seen.outline.soft_share = 0.13;
        CHECK(seen.why_not() == unclear_edge);
    }
    SECTION("along hardly any edge") {
        seen.outline.faint_share = 0.08;
        CHECK(seen.why_not() == unclear_edge);
    }
    SECTION("a piece of the part outside it") {
        seen.outline.lost_share = 0.4;
        CHECK(seen.why_not() == unclear_edge);
    }
    SECTION("a spike") {
        seen.outline.spike_mm = 3.5;
        CHECK(seen.why_not() == unclear_edge);
    }
    SECTION("as well elsewhere") {
        seen.outline.doubtful_share = 0.12;
        CHECK(seen.why_not() == unclear_edge);
    }
}
