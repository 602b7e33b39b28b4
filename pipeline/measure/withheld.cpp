#include "measure/withheld.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace stripbook::measure {

namespace {

template <typename Which>
void take_out(std::vector<Dimension>& dimensions, const Which& which) {
    dimensions.erase(std::remove_if(dimensions.begin(), dimensions.end(), which), dimensions.end());
    for (std::size_t i = 0; i < dimensions.size(); ++i) {
        dimensions[i].number = static_cast<int>(i) + 1;
    }
}

const char* const read_in_two_ways =
    "its edge can be read in two ways; light from all sides tells them apart";

// How far two readings of a hole may lie apart: so much, or 1 % of its diameter.
double farthest_mm(const RoundHole& hole, double least_mm) {
    constexpr double too_far = 0.01;
    return std::max(least_mm, too_far * 2 * hole.circle_mm.radius);
}

constexpr double most_apart_mm = 0.3;
constexpr double most_middles_apart_mm = 0.4;

// Why a hole's diameter cannot be trusted; empty: it can.
std::string diameter_fault(const RoundHole& hole) {
    constexpr double most_scatter_mm = 0.21;  // U comes to 0.5 mm with it
    if (hole.readings_apart_mm > farthest_mm(hole, most_apart_mm)) {
        return read_in_two_ways;
    }
    if (hole.unlike_mm != 0) {
        return fmt::format("it came out {:.1f} mm {} than those like it; measure it",
                           std::abs(hole.unlike_mm), hole.unlike_mm > 0 ? "larger" : "smaller");
    }
    return hole.alike_scatter_mm > most_scatter_mm
               ? "those like it came out too different from each other; measure it"
               : "";
}

}  // namespace

void without_outline(PartMeasurement& part, std::string reason) {
    part.outline_reason = std::move(reason);
    part.outline_px.clear();
    part.outline_mm.clear();
    take_out(part.dimensions, [](const Dimension& d) { return is_of_outline(d.kind); });
}

void without_doubtful_holes(PartMeasurement& part, const std::vector<RoundHole>& holes) {
    for (std::size_t i = 0; i < holes.size(); ++i) {
        const int number = static_cast<int>(i) + 1;
        const auto is_of_it = [number](const Dimension& d, DimensionKind kind) {
            return d.kind == kind && std::find(d.holes.begin(), d.holes.end(), number) != d.holes.end();
        };
        if (const std::string fault = diameter_fault(holes[i]); !fault.empty()) {
            part.notes.push_back(fmt::format("Hole {} has no diameter: {}.", number, fault));
            take_out(part.dimensions,
                     [&](const Dimension& d) { return is_of_it(d, DimensionKind::hole_diameter); });
        }
        if (holes[i].middles_apart_mm > farthest_mm(holes[i], most_middles_apart_mm)) {
            part.notes.push_back(
                fmt::format("Hole {} has no centre distances: {}.", number, read_in_two_ways));
            take_out(part.dimensions,
                     [&](const Dimension& d) { return is_of_it(d, DimensionKind::centre_distance); });
        }
    }
}

}  // namespace stripbook::measure
