// What counts against an outline in any case, and what where another reading of it differs.
#include "measure/outline_verdict.h"

#include <catch2/catch.hpp>
#include <vector>

#include "drawn_outline.h"
#include "plane_above.h"

using namespace stripbook;
using namespace stripbook::measure;

namespace {

constexpr double px_per_mm = 5;

// 80 mm long, or so much longer to the right, by 50 mm in the middle of the sheet.
OutlineEdge drawn(const scale::Plane& plane, double longer_mm) {
    const cv::Point2d middle = plane.lens.centre_px;
    const cv::Point2d half(40 * px_per_mm, 25 * px_per_mm);
    const double right = middle.x + half.x + longer_mm * px_per_mm;
    OutlineEdge edge;
    edge.points = drawn_outline::along({middle - half,
                                        {right, middle.y - half.y},
                                        {right, middle.y + half.y},
                                        {middle.x - half.x, middle.y + half.y}});
    return edge;
}

// The same with a bite out of its upper side, 20 mm wide and so deep.
OutlineEdge bitten(const scale::Plane& plane, double deep_mm) {
    const cv::Point2d middle = plane.lens.centre_px;
    const cv::Point2d half(40 * px_per_mm, 25 * px_per_mm);
    const double bottom = middle.y - half.y + deep_mm * px_per_mm;
    const double wide = 10 * px_per_mm;
    OutlineEdge edge;
    edge.points = drawn_outline::along({middle - half,
                                        {middle.x - wide, middle.y - half.y},
                                        {middle.x - wide, bottom},
                                        {middle.x + wide, bottom},
                                        {middle.x + wide, middle.y - half.y},
                                        {middle.x + half.x, middle.y - half.y},
                                        middle + half,
                                        {middle.x - half.x, middle.y + half.y}});
    return edge;
}

// Read alike twice.
struct Clear {
    scale::Plane plane = plane_above();
    OutlineEdge edge = drawn(plane, 0);
    CleanOutline outline = clean_outline(edge, plane, {}, px_per_mm);

    [[nodiscard]] std::string why_not() const { return why_not(edge); }
    [[nodiscard]] std::string why_not(const OutlineEdge& second) const {
        return verdict_on(outline, {edge, second}, plane, {}, px_per_mm, 0).why_not;
    }
};

}  // namespace

TEST_CASE("A clear outline is trusted, one with a single grave fault is not", "[measure]") {
    struct Fault {
        double CleanOutline::*share_or_mm;
        double borne, grave;
    };
    const std::vector<Fault> faults{
        {&CleanOutline::soft_share, 0.05, 0.13},    {&CleanOutline::dark_band_share, 0.1, 0.15},
        {&CleanOutline::faint_share, 0.05, 0.08},   {&CleanOutline::lost_share, 0.3, 0.4},
        {&CleanOutline::spike_mm, 2.5, 3.5},        {&CleanOutline::thin_corner_mm, 1, 1.4},
        {&CleanOutline::doubtful_share, 0.01, 0.12}};
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

TEST_CASE("An outline whose second reading differs in area alone is not trusted", "[measure]") {
    const Clear seen;
    CHECK(seen.why_not(bitten(seen.plane, 5)).empty());  // 2.5 % of 80 by 50 mm
    CHECK(seen.why_not(bitten(seen.plane, 7)) == unclear_edge);
}

// A circle rests on all of its edge, and is not moved by a fault here and there.
TEST_CASE("What is wrong in places does not count against a round outline, what is broadly wrong does",
          "[measure]") {
    Clear seen;
    std::vector<cv::Point2d> round;
    constexpr int corners = 720;
    for (int i = 0; i < corners; ++i) {
        const double turn = 2 * CV_PI * i / corners;
        round.push_back(seen.plane.lens.centre_px +
                        30 * px_per_mm * cv::Point2d(std::cos(turn), std::sin(turn)));
    }
    seen.edge.points = drawn_outline::along(round);
    // A twelfth of it runs along hardly any edge, 1.6 mm further out.
    seen.edge.usual_contrast = 60;
    const std::size_t n = seen.edge.points.size();
    for (std::size_t i = 0; i < n / 12; ++i) {
        auto& point = seen.edge.points[i];
        point.px += point.outward * (1.6 * px_per_mm);
        point.contrast_share = 0.05;
    }
    seen.outline = clean_outline(seen.edge, seen.plane, {}, px_per_mm);
    REQUIRE(seen.outline.round);
    REQUIRE(seen.outline.faint_share > 0.08);
    CHECK(seen.why_not().empty());
    seen.outline.doubtful_share = 0.15;
    seen.outline.spike_mm = 4;
    CHECK(seen.why_not().empty());
    const CleanOutline clear = seen.outline;
    seen.outline.round = false;
    CHECK(seen.why_not() == unclear_edge);
    seen.outline = clear;
    seen.outline.lost_share = 0.4;
    CHECK(seen.why_not() == unclear_edge);
    seen.outline = clear;
    seen.outline.soft_share = 0.13;
    CHECK(seen.why_not() == unclear_edge);
}

TEST_CASE("A lug or a flat on a round part is no fault of its outline, and it is not measured as a disc",
          "[measure]") {
    // 60 mm across, with a lug that stands out 5 mm over a twelfth, or cut off 3 mm deep.
    const scale::Plane plane = plane_above();
    std::vector<cv::Point2d> lugged;
    std::vector<cv::Point2d> flat;
    constexpr int corners = 720;
    for (int i = 0; i < corners; ++i) {
        const double turn = 2 * CV_PI * i / corners;
        const cv::Point2d out(std::cos(turn), std::sin(turn));
        lugged.push_back(plane.lens.centre_px + (i < corners / 12 ? 35 : 30) * px_per_mm * out);
        flat.push_back(plane.lens.centre_px +
                       px_per_mm * cv::Point2d(std::min(27.0, 30 * out.x), 30 * out.y));
    }
    for (const auto& shape : {lugged, flat}) {
        Clear seen;
        seen.edge.points = drawn_outline::along(shape);
        seen.edge.usual_contrast = 60;
        seen.outline = clean_outline(seen.edge, seen.plane, {}, px_per_mm);
        REQUIRE(seen.outline.round);
        CHECK(seen.why_not().find("round but for a stretch") != std::string::npos);
        // A shadow's border is faint.
        for (auto& point : seen.edge.points) {
            const double off_mm = cv::norm(point.px - plane.lens.centre_px) / px_per_mm - 30;
            point.contrast_share = std::abs(off_mm) > 0.5 ? 0.1 : 1;
        }
        seen.outline = clean_outline(seen.edge, seen.plane, {}, px_per_mm);
        CHECK(seen.why_not().empty());
    }
}

// Too far: 0.75 mm or 1 %, here 0.8 mm.
TEST_CASE("An outline is not trusted when a second reading of it comes to other sizes", "[measure]") {
    const Clear seen;
    for (const double borne_mm : {-0.3, 0.1, 0.3}) {
        INFO(borne_mm << " mm longer");
        CHECK(seen.why_not(drawn(seen.plane, borne_mm)).empty());
    }
    for (const double grave_mm : {-0.5, 0.5, 2.0}) {
        INFO(grave_mm << " mm longer");
        CHECK(seen.why_not(drawn(seen.plane, grave_mm)) == unclear_edge);
    }
}

TEST_CASE("A ragged outline is trusted only where the second reading comes nearer", "[measure]") {
    Clear seen;
    cv::RNG random(5);
    const double right = seen.plane.lens.centre_px.x + 40 * px_per_mm;
    for (auto& point : seen.edge.points) {
        point.px.x += point.px.x > right - 1 ? random.gaussian(1.5) : 0;
    }
    seen.outline = clean_outline(seen.edge, seen.plane, {}, px_per_mm);
    CHECK(seen.why_not().empty());
    // It is as long as its outermost points are, about 0.3 mm more than drawn.
    CHECK(seen.why_not(drawn(seen.plane, 0.3)).empty());
    CHECK(seen.why_not(drawn(seen.plane, 0)) == unclear_edge);
}
