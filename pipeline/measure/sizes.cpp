#include "measure/sizes.h"

#include "measure/circle_fit.h"

namespace stripbook::measure {

std::vector<double> Sizes::row() const {
    std::vector<double> values{extent.length_mm, extent.width_mm, extent.largest_mm, extent.area_mm2};
    for (const auto& hole : holes) {
        values.push_back(hole.diameter_mm);
    }
    values.insert(values.end(), distances_mm.begin(), distances_mm.end());
    for (const auto& circle : bolt_circles) {
        values.push_back(2 * circle.radius);
    }
    return values;
}

Sizes sizes_of(const PartSeen& seen, const scale::Plane& plane, const Heights& heights) {
    Sizes sizes;
    sizes.extent = extent_of(outline_mm(seen.outline, plane, heights));
    for (const auto& rim : seen.holes) {
        std::vector<cv::Point2d> points;
        for (const auto& px : rim) {
            if (const auto mm = scale::plane_from_pixel(plane, px, heights.face)) {
                points.push_back(*mm);
            }
        }
        const auto circle = algebraic_circle(points);
        sizes.holes.push_back(circle ? HoleSize{circle->centre, 2 * circle->radius} : HoleSize{});
    }
    for (const auto& [a, b] : seen.distances) {
        sizes.distances_mm.push_back(cv::norm(sizes.holes[a].centre_mm - sizes.holes[b].centre_mm));
    }
    for (const auto& group : seen.bolt_circles) {
        std::vector<cv::Point2d> centres;
        for (const auto i : group) {
            centres.push_back(sizes.holes[i].centre_mm);
        }
        const auto circle = geometric_circle(centres);
        sizes.bolt_circles.push_back(circle ? *circle : Circle{});
    }
    return sizes;
}

}  // namespace stripbook::measure
