// Bumps on a straight side: a lug's and a shadow's.
#include "measure/ragged_bump.h"

#include <catch2/catch.hpp>

#include "drawn_outline.h"
#include "measure/clean_outline.h"
#include "plane_above.h"

using namespace stripbook;
using namespace stripbook::measure;

namespace {

constexpr double px_per_mm = 5;

// 80 by 50 mm, with a bump on its right side 12 mm wide and 3 mm high, of so much of the usual contrast;
// its top jumps by so many pixels.
OutlineEdge bumped(const scale::Plane& plane, double contrast_share, double jumps_px) {
    constexpr double high_mm = 3;
    const cv::Point2d middle = plane.lens.centre_px;
    const cv::Point2d half(40 * px_per_mm, 25 * px_per_mm);
    const double right = middle.x + half.x;
    const double top = right + high_mm * px_per_mm;
    const double wide = 6 * px_per_mm;
    OutlineEdge edge;
    edge.points = drawn_outline::along({middle - half,
                                        {right, middle.y - half.y},
                                        {right, middle.y - wide},
                                        {top, middle.y - wide},
                                        {top, middle.y + wide},
                                        {right, middle.y + wide},
                                        middle + half,
                                        {middle.x - half.x, middle.y + half.y}});
    cv::RNG random(3);
    for (auto& point : edge.points) {
        if (point.px.x > right + 2 * px_per_mm) {
            point.px += point.outward * random.gaussian(jumps_px);
            point.contrast_share = contrast_share;
        }
    }
    return edge;
}

bool rests_on_bump(double contrast_share, double jumps_px) {
    const auto plane = plane_above();
    const OutlineEdge edge = bumped(plane, contrast_share, jumps_px);
    const auto outline = clean_outline(edge, plane, {}, px_per_mm).points;
    const auto closed_mm = outline_mm(outline, plane, {});
    return rests_on_ragged_bump(outline, closed_mm, extent_of(closed_mm), edge);
}

}  // namespace

TEST_CASE("A length rests on a ragged faint bump, and a lug with a clear edge is none", "[measure]") {
    CHECK(rests_on_bump(0.4, 3));
    CHECK_FALSE(rests_on_bump(1, 0.1));
    CHECK_FALSE(rests_on_bump(1, 3));
}
