// What is kept back of a measurement whose holes are doubtful.
#include "measure/withheld.h"

#include <algorithm>
#include <catch2/catch.hpp>

using namespace stripbook::measure;

namespace {

Dimension of(DimensionKind kind, const std::vector<int>& holes, int number) {
    Dimension d;
    d.kind = kind;
    d.holes = holes;
    d.number = number;
    return d;
}

// A plate with three holes on a bolt circle.
PartMeasurement plate() {
    PartMeasurement part;
    const std::vector<std::pair<DimensionKind, std::vector<int>>> rows{
        {DimensionKind::length, {}},
        {DimensionKind::hole_diameter, {1}},
        {DimensionKind::hole_diameter, {2}},
        {DimensionKind::hole_diameter, {3}},
        {DimensionKind::centre_distance, {1, 2}},
        {DimensionKind::centre_distance, {1, 3}},
        {DimensionKind::centre_distance, {2, 3}},
        {DimensionKind::bolt_circle, {1, 2, 3}}};
    for (const auto& [kind, holes] : rows) {
        part.dimensions.push_back(of(kind, holes, static_cast<int>(part.dimensions.size()) + 1));
    }
    return part;
}

std::vector<RoundHole> holes_of_12_mm() {
    RoundHole hole;
    hole.circle_mm.radius = 6;
    return {hole, hole, hole};
}

std::ptrdiff_t how_many(const PartMeasurement& part, DimensionKind kind) {
    return std::count_if(part.dimensions.begin(), part.dimensions.end(),
                         [kind](const auto& d) { return d.kind == kind; });
}

void check_numbers(const PartMeasurement& part) {
    for (std::size_t i = 0; i < part.dimensions.size(); ++i) {
        CHECK(part.dimensions[i].number == static_cast<int>(i) + 1);
    }
}

}  // namespace

TEST_CASE("Holes without doubt keep everything, and nothing is said", "[measure]") {
    PartMeasurement part = plate();
    auto holes = holes_of_12_mm();
    holes[0].readings_apart_mm = 0.29;
    holes[1].middles_apart_mm = 0.39;
    holes[2].alike_scatter_mm = 0.2;
    without_doubtful_holes(part, holes);
    CHECK(part.dimensions.size() == plate().dimensions.size());
    CHECK(part.notes.empty());
}

TEST_CASE("A hole whose middle can be read in two ways has no centre distances", "[measure]") {
    PartMeasurement part = plate();
    auto holes = holes_of_12_mm();
    holes[1].middles_apart_mm = 0.41;
    without_doubtful_holes(part, holes);
    CHECK(how_many(part, DimensionKind::hole_diameter) == 3);
    REQUIRE(how_many(part, DimensionKind::centre_distance) == 1);
    CHECK(part.dimensions[4].holes == std::vector<int>{1, 3});
    CHECK(how_many(part, DimensionKind::bolt_circle) == 1);
    REQUIRE(part.notes.size() == 1);
    CHECK(part.notes[0] ==
          "Hole 2 has no centre distances: its edge can be read in two ways; light from all sides "
          "tells them apart.");
    check_numbers(part);
    // Of a large one, 1 % of its diameter is borne.
    PartMeasurement large = plate();
    holes[1].circle_mm.radius = 25;
    without_doubtful_holes(large, holes);
    CHECK(how_many(large, DimensionKind::centre_distance) == 3);
}

TEST_CASE("A doubtful diameter is kept back, and the reason said", "[measure]") {
    const auto note = [](double RoundHole::*what, double mm) {
        PartMeasurement part = plate();
        auto holes = holes_of_12_mm();
        holes[2].*what = mm;
        without_doubtful_holes(part, holes);
        CHECK(how_many(part, DimensionKind::hole_diameter) == 2);
        CHECK(how_many(part, DimensionKind::centre_distance) == 3);
        check_numbers(part);
        REQUIRE(part.notes.size() == 1);
        return part.notes[0];
    };
    CHECK(note(&RoundHole::readings_apart_mm, 0.31) ==
          "Hole 3 has no diameter: its edge can be read in two ways; light from all sides tells them apart.");
    CHECK(note(&RoundHole::unlike_mm, -0.6) ==
          "Hole 3 has no diameter: it came out 0.6 mm smaller than those like it; measure it.");
    CHECK(note(&RoundHole::alike_scatter_mm, 0.22) ==
          "Hole 3 has no diameter: those like it came out too different from each other; measure it.");
}

TEST_CASE("Without its outline a part keeps its holes", "[measure]") {
    PartMeasurement part = plate();
    part.outline_px = {{0, 0}, {1, 0}, {1, 1}};
    without_outline(part, "because");
    CHECK(part.outline_reason == "because");
    CHECK(part.outline_px.empty());
    CHECK(how_many(part, DimensionKind::length) == 0);
    CHECK(part.dimensions.size() == plate().dimensions.size() - 1);
    check_numbers(part);
}
