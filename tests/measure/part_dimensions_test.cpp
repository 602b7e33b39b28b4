// From what was seen to the table of dimensions.
#include "measure/part_dimensions.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "plane_above.h"

using namespace stripbook;
using namespace stripbook::measure;

namespace {

const std::vector<RoundHole> two_holes{{{{80, 80}, 6, 0}, 0, 0, 0}, {{{140, 80}, 6, 0}, 0, 0, 0}};

cv::Point2d px_of(const scale::Plane& plane, cv::Point2d mm) {
    return scale::pixel_from_plane(plane, mm, 0).value();
}

// A plate of 100 by 40 mm with two holes 60 mm apart, on the sheet.
PartSeen plate_on(const scale::Plane& plane, const std::vector<RoundHole>& holes) {
    PartSeen seen;
    for (int i = 0; i < 1000; ++i) {
        seen.outline.push_back({px_of(plane, {60 + i * 0.1, 60}), true});
    }
    for (int i = 0; i < 400; ++i) {
        seen.outline.push_back({px_of(plane, {160, 60 + i * 0.1}), true});
    }
    for (int i = 0; i < 1000; ++i) {
        seen.outline.push_back({px_of(plane, {160 - i * 0.1, 100}), true});
    }
    for (int i = 0; i < 400; ++i) {
        seen.outline.push_back({px_of(plane, {60, 100 - i * 0.1}), true});
    }
    for (const auto& hole : holes) {
        std::vector<cv::Point2d> rim;
        for (int i = 0; i < 48; ++i) {
            const double turn = 2 * CV_PI * i / 48;
            rim.push_back(px_of(
                plane,
                hole.circle_mm.centre + hole.circle_mm.radius * cv::Point2d(std::cos(turn), std::sin(turn))));
        }
        seen.holes.push_back(rim);
    }
    return seen;
}

PartMeasurement plate_with(const std::vector<RoundHole>& holes, const OutlineDoubts& doubts = {},
                           double usual_contrast = 100) {
    const scale::Plane plane = plane_above();
    OutlineEdge edge;
    edge.points.resize(8);
    edge.usual_contrast = usual_contrast;
    return dimensions_of(plate_on(plane, holes), edge, holes, plane, FaceHeight{{0, 0}, 0, true, 0, 0}, {},
                         doubts);
}

const Dimension& only(const PartMeasurement& part, DimensionKind kind) {
    return *std::find_if(part.dimensions.begin(), part.dimensions.end(),
                         [&](const Dimension& d) { return d.kind == kind; });
}

}  // namespace

TEST_CASE("A plate seen from straight above has its sizes", "[measure]") {
    const auto part = plate_with(two_holes);
    CHECK(only(part, DimensionKind::length).value == Approx(100).margin(1e-6));
    CHECK(only(part, DimensionKind::width).value == Approx(40).margin(1e-6));
    CHECK(only(part, DimensionKind::centre_distance).value == Approx(60).margin(1e-6));
    CHECK(only(part, DimensionKind::hole_diameter).value == Approx(12).margin(1e-3));
    CHECK(only(part, DimensionKind::area).value == Approx(4000).epsilon(1e-6));
    CHECK(only(part, DimensionKind::area).note == "holes not taken off");
}

TEST_CASE("What was taken for a part's shadow counts in its outside dimensions alone", "[measure]") {
    OutlineDoubts doubts;
    double half_mm = 0;
    SECTION("beside a round edge") {
        doubts.shadow_mm = 0.9;
        half_mm = 0.45;
    }
    SECTION("taken off as the holes tell") {
        doubts.taken_off_mm = 0.8;
        half_mm = 0.2;
    }
    const auto plain = plate_with(two_holes);
    const auto shaded = plate_with(two_holes, doubts);
    const auto added = [&](DimensionKind kind) {
        const double before = only(plain, kind).budget.combined();
        const double after = only(shaded, kind).budget.combined();
        return std::sqrt(after * after - before * before);
    };
    // JCGM 100, 4.3.7: a rectangle of that half width.
    CHECK(added(DimensionKind::length) == Approx(half_mm / std::sqrt(3)).epsilon(1e-6));
    CHECK(added(DimensionKind::width) == Approx(half_mm / std::sqrt(3)).epsilon(1e-6));
    CHECK(added(DimensionKind::area) == Approx(half_mm / std::sqrt(3) * 140).epsilon(1e-6));
    CHECK(added(DimensionKind::hole_diameter) == Approx(0).margin(1e-6));
    CHECK(added(DimensionKind::centre_distance) == Approx(0).margin(1e-6));
}

TEST_CASE("What a hole's centre may be off by counts in its centre distances, not in its diameter",
          "[measure]") {
    const auto clear = plate_with(two_holes);
    auto holes = two_holes;
    holes[0].middles_apart_mm = 0.6;
    holes[1].middles_apart_mm = 0.8;
    const auto doubtful = plate_with(holes);
    const auto u = [](const PartMeasurement& part, DimensionKind kind) {
        return only(part, kind).expanded() / 2;
    };
    // Either centre lies at one of two places, which has half their distance for a standard deviation; the
    // two are independent.
    const double more = std::hypot(0.3, 0.4);
    CHECK(u(doubtful, DimensionKind::centre_distance) ==
          Approx(std::hypot(u(clear, DimensionKind::centre_distance), more)));
    CHECK(u(doubtful, DimensionKind::hole_diameter) == u(clear, DimensionKind::hole_diameter));
    CHECK(u(doubtful, DimensionKind::length) == u(clear, DimensionKind::length));
}

TEST_CASE("A shadow that may lie in a hole unseen counts in its diameter alone", "[measure]") {
    auto holes = two_holes;
    holes[0].u_shadow_mm = 0.3;
    const auto clear = plate_with(two_holes);
    const auto shaded = plate_with(holes);
    const auto u = [](const PartMeasurement& part, DimensionKind kind) {
        return only(part, kind).budget.combined();
    };
    CHECK(u(shaded, DimensionKind::hole_diameter) ==
          Approx(std::hypot(u(clear, DimensionKind::hole_diameter), 0.3)));
    CHECK(u(shaded, DimensionKind::centre_distance) == u(clear, DimensionKind::centre_distance));
    CHECK(u(shaded, DimensionKind::area) == u(clear, DimensionKind::area));
}

TEST_CASE("What an all but round outline lacks of a circle counts in its sizes", "[measure]") {
    const scale::Plane plane = plane_above();
    OutlineEdge edge;
    edge.points.resize(8);
    edge.usual_contrast = 100;
    const auto uneven = [&](double width) {
        PartSeen seen;
        for (int i = 0; i < 2000; ++i) {
            const double turn = 2 * CV_PI * i / 2000;
            seen.outline.push_back(
                {px_of(plane, {110 + 50 * std::cos(turn), 80 + width / 2 * std::sin(turn)}), true});
        }
        const auto part =
            dimensions_of(seen, edge, {}, plane, FaceHeight{{0, 0}, 0, true, 0, 0}, {}, OutlineDoubts{});
        double u = 0;
        for (const auto& component : only(part, DimensionKind::width).budget.components) {
            u += component.name == "not quite round" ? component.u : 0;
        }
        return u;
    };
    // JCGM 100, 4.3.7: a rectangle of that half width.
    CHECK(uneven(99.2) == Approx(0.8 / std::sqrt(3)).epsilon(0.01));
    CHECK(uneven(100) == 0);
    CHECK(uneven(96) == 0);  // oval
}

TEST_CASE("A size that ends in corners is less sure, the less the fainter the edge is", "[measure]") {
    const auto corners = [](const PartMeasurement& part, DimensionKind kind) {
        double u = 0;
        for (const auto& component : only(part, kind).budget.components) {
            u += component.name == "ends in a corner" ? component.u : 0;
        }
        return u;
    };
    const auto clear = plate_with(two_holes);
    const auto among_stains = plate_with(two_holes, {}, 38);
    const auto faint = plate_with(two_holes, {}, 10);
    CHECK(corners(clear, DimensionKind::length) == 0);
    CHECK(corners(faint, DimensionKind::width) == 0);
    // From corner to corner.
    CHECK(corners(clear, DimensionKind::largest_extent) == Approx(0.1 * std::sqrt(2)));
    CHECK(corners(faint, DimensionKind::largest_extent) == Approx(0.35 * std::sqrt(2)));
    CHECK(corners(among_stains, DimensionKind::largest_extent) == Approx(0.25 * std::sqrt(2)));
}
