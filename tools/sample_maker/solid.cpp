#include "sample_maker/solid.h"

#include <algorithm>
#include <cmath>

namespace stripbook::sample_maker {

namespace {

using nlohmann::json;

double distance_from_outline(const DiscOutline& disc, cv::Point2d p) {
    return cv::norm(p) - disc.radius;
}

// A point beside the tangents is nearest to one of the discs, between them to a tangent.
double distance_from_outline(const LeverOutline& lever, cv::Point2d p) {
    const double lean = (lever.first_radius - lever.second_radius) / lever.centres;
    const cv::Point2d normal(lean, std::sqrt(1 - lean * lean));
    const cv::Point2d q(p.x, std::abs(p.y));
    const double along = q.dot(cv::Point2d(normal.y, -normal.x));
    if (along < 0) {
        return cv::norm(q) - lever.first_radius;
    }
    if (along > lever.centres * normal.y) {
        return cv::norm(q - cv::Point2d(lever.centres, 0)) - lever.second_radius;
    }
    return q.dot(normal) - lever.first_radius;
}

double distance_from_outline(const PlateOutline& plate, cv::Point2d p) {
    const cv::Point2d q(std::abs(p.x) - plate.width / 2 + plate.corner,
                        std::abs(p.y) - plate.height / 2 + plate.corner);
    const double outside = std::hypot(std::max(q.x, 0.0), std::max(q.y, 0.0));
    return outside + std::min(0.0, std::max(q.x, q.y)) - plate.corner;
}

double distance_from_outline(const ShoeOutline& shoe, cv::Point2d p) {
    const double r = cv::norm(p);
    const double ring = std::max(r - shoe.outer_radius, shoe.inner_radius - r);
    const double half = shoe.angle_rad / 2;
    const double ends = std::abs(p.y) * std::cos(half) - p.x * std::sin(half);
    return std::max(ring, ends);
}

json plain_truth(const DiscOutline& disc) {
    return {{"kind", "disc"}, {"od", 2 * disc.radius}};
}
json plain_truth(const LeverOutline& lever) {
    return {{"kind", "lever"},
            {"centres", lever.centres},
            {"r1", lever.first_radius},
            {"r2", lever.second_radius}};
}
json plain_truth(const PlateOutline& plate) {
    return {{"kind", "plate"}, {"w", plate.width}, {"h", plate.height}, {"corner", plate.corner}};
}
json plain_truth(const ShoeOutline& shoe) {
    return {{"kind", "shoe"},
            {"ro", shoe.outer_radius},
            {"ri", shoe.inner_radius},
            {"angle", shoe.angle_rad * 180 / CV_PI}};
}

// A disc with holes is told by its bore and bolt circle, as a flange.
void add_holes(const Solid& solid, const DiscOutline&, json& truth) {
    std::size_t bolts = solid.holes.size();
    if (!solid.holes.empty() && cv::norm(solid.holes.front().centre) == 0) {
        truth["bore"] = solid.holes.front().diameter;
        --bolts;
    }
    if (bolts > 0) {
        truth["kind"] = "flange";
        truth["n"] = bolts;
        truth["hole"] = solid.holes.back().diameter;
        truth["bcd"] = 2 * cv::norm(solid.holes.back().centre);
    }
}
void add_holes(const Solid& solid, const LeverOutline&, json& truth) {
    truth["d1"] = solid.holes.front().diameter;
    truth["d2"] = solid.holes.back().diameter;
}
void add_holes(const Solid& solid, const PlateOutline&, json& truth) {
    truth["holes"] = json::array();
    for (const auto& hole : solid.holes) {
        truth["holes"].push_back({hole.centre.x, hole.centre.y, hole.diameter});
    }
}
void add_holes(const Solid& solid, const ShoeOutline&, json& truth) {
    truth["hole"] = solid.holes.front().diameter;
}

}  // namespace

double distance_from(const Solid& solid, cv::Point2d part_mm) {
    double distance =
        std::visit([&](const auto& o) { return distance_from_outline(o, part_mm); }, solid.outline);
    for (const auto& hole : solid.holes) {
        distance = std::max(distance, hole.diameter / 2 - cv::norm(part_mm - hole.centre));
    }
    return distance;
}

double reach_mm(const Solid& solid) {
    struct Reach {
        double operator()(const DiscOutline& o) const { return o.radius; }
        double operator()(const LeverOutline& o) const {
            return std::max(o.first_radius, o.centres + o.second_radius);
        }
        double operator()(const PlateOutline& o) const { return std::hypot(o.width, o.height) / 2; }
        double operator()(const ShoeOutline& o) const { return o.outer_radius; }
    };
    return std::visit(Reach{}, solid.outline);
}

json truth_of_solid(const Solid& solid) {
    return std::visit(
        [&](const auto& outline) {
            json truth = plain_truth(outline);
            add_holes(solid, outline, truth);
            truth["thickness"] = solid.thickness;
            truth["chamfer"] = solid.chamfer;
            return truth;
        },
        solid.outline);
}

}  // namespace stripbook::sample_maker
