// Parts with height: an outline with round holes, upright walls, and edges broken at 45 degrees.
//
// Part frame: millimetres in the plane, x right, y down; heights count upwards from the ground under the
// part.
#pragma once

#include <nlohmann/json.hpp>
#include <opencv2/core.hpp>
#include <string>
#include <variant>
#include <vector>

namespace stripbook::sample_maker {

struct DiscOutline {
    double radius = 0;
};
/// Two discs and what lies between their common tangents: the first about the origin, the second `centres`
/// to its right.
struct LeverOutline {
    double centres = 0, first_radius = 0, second_radius = 0;
};
/// A rectangle with rounded corners about the origin.
struct PlateOutline {
    double width = 0, height = 0, corner = 0;
};
/// A piece of a ring about the origin, symmetric to the x axis, less than half of it.
struct ShoeOutline {
    double outer_radius = 0, inner_radius = 0, angle_rad = 0;
};

struct RoundHole {
    cv::Point2d centre;
    double diameter = 0;
};

struct Solid {
    std::variant<DiscOutline, LeverOutline, PlateOutline, ShoeOutline> outline;
    std::vector<RoundHole> holes;
    double thickness = 0;
    double chamfer = 0;  ///< how far the edges of the face lie inside the walls
};

/// Distance of a point from the solid seen from above, negative inside (in concave corners of a shoe no more
/// than that): zero on the walls.
double distance_from(const Solid& solid, cv::Point2d part_mm);

/// How far the solid reaches from its origin at most.
double reach_mm(const Solid& solid);

/// The fields of `parts[]` in a truth.json (sample_images/README.md), without pose and finish.
nlohmann::json truth_of_solid(const Solid& solid);

}  // namespace stripbook::sample_maker
