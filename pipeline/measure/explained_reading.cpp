#include "measure/explained_reading.h"

#include <cstddef>
#include <limits>
#include <vector>

#include "measure/closed_runs.h"

namespace stripbook::measure {

namespace {

const EdgePoint& nearest_to(cv::Point2d px, const OutlineEdge& edge) {
    const EdgePoint* nearest = &edge.points.front();
    double least = std::numeric_limits<double>::max();
    for (const auto& point : edge.points) {
        const cv::Point2d off = point.px - px;
        if (const double apart = off.dot(off); apart < least) {
            least = apart;
            nearest = &point;
        }
    }
    return *nearest;
}

// Whether it lies on the rim of a wall whose foot is in `first`, or on the border of the face beside that
// rim. Where one wall further in there is an edge as well, it may be a foot itself.
bool is_rim_of_foot_in(const OutlineEdge& first, const EdgePoint& point, const Wall& wall) {
    constexpr double least_wall_px = 2;
    constexpr double on_it_px = 2;
    constexpr double no_edge = 0.5;  // of the edge at the point; feet come to 0.6 and more, rims to 0.3
    if (!wall.foot_of_rim || point.rim_share > no_edge * point.contrast_share) {
        return false;
    }
    const cv::Point2d foot_px = wall.foot_of_rim(point.px);
    const EdgePoint& foot = nearest_to(foot_px, first);
    const double beyond = (foot.px - foot_px).dot(foot.outward);
    return foot.wall_shows && (foot_px - point.px).dot(foot.outward) > least_wall_px && beyond > -on_it_px &&
           beyond < wall.broken_px + on_it_px;
}

bool is_hardly_an_edge(const EdgePoint& point, const EdgePoint& beside) {
    constexpr double hardly_any = 0.15;  // of the usual contrast
    constexpr double clear = 0.4;
    return point.contrast_share < hardly_any && beside.contrast_share > clear;
}

// A point of the second reading beside the first.
struct Compared {
    const EdgePoint* beside = nullptr;
    bool apart = false;
    bool explained = false;
};

std::vector<Compared> compared(const OutlineEdge& second, const OutlineEdge& first, const Wall& wall) {
    constexpr double same_px = 1;
    std::vector<Compared> points;
    for (const auto& point : second.points) {
        Compared here{&nearest_to(point.px, first), false, false};
        here.apart = cv::norm(here.beside->px - point.px) > same_px;
        here.explained =
            here.apart && (is_hardly_an_edge(point, *here.beside) || is_rim_of_foot_in(first, point, wall));
        points.push_back(here);
    }
    return points;
}

}  // namespace

OutlineEdge without_explained(OutlineEdge second, const OutlineEdge& first, const Wall& wall) {
    if (first.points.empty()) {
        return second;
    }
    const auto points = compared(second, first, wall);
    std::vector<bool> apart;
    apart.reserve(points.size());
    for (const auto& point : points) {
        apart.push_back(point.apart);
    }
    for (const auto& stretch : runs_around(apart, 1)) {
        if (stretch.count == points.size()) {
            return second;  // nothing in common: not the same edge
        }
        // The ends of a stretch look half like what is beside them, so the stretch counts as a whole.
        std::size_t explained = 0;
        for (std::size_t k = 0; k < stretch.count; ++k) {
            explained += points[(stretch.first + k) % points.size()].explained ? 1 : 0;
        }
        for (std::size_t k = 0; 3 * explained > 2 * stretch.count && k < stretch.count; ++k) {
            const std::size_t i = (stretch.first + k) % points.size();
            second.points[i] = *points[i].beside;
        }
    }
    return second;
}

}  // namespace stripbook::measure
