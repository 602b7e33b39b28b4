// What counts against an outline in any case.
#include "measure/outline_verdict.h"

#include <catch2/catch.hpp>
#include <vector>

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
    struct Fault {
        double CleanOutline::*share_or_mm;
        double borne, grave;
    };
    const std::vector<Fault> faults{
        {&CleanOutline::soft_share, 0.05, 0.13}, {&CleanOutline::faint_share, 0.05, 0.08},
        {&CleanOutline::lost_share, 0.3, 0.4},   {&CleanOutline::spike_mm, 2.5, 3.5},
        {&CleanOutline::thin_corner_mm, 1, 1.4}, {&CleanOutline::doubtful_share, 0.01, 0.12}};
    REQUIRE(Clear().outline.usable());
    CHECK(Clear().why_not().empty());
    for (std::size_t i = 0; i < faults.size(); ++i) {
        INFO("fault " << i);
        Clear seen;
        seen.outline.*faults[i].share_or_mm = faults[i].borne;
        CHECK(seen.why_not().empty());
        seen.outline.*faults[i].share_or_mm = faults[i].grave;
        CHECK(seen.why_not() == unclear_edge);
    }
}
