#include "measure/round_edges.h"

#include <algorithm>
#include <cmath>
#include <iterator>

#include "measure/edge_profile.h"

namespace stripbook::measure {

namespace {

constexpr double step_px = 0.25;
constexpr double strong_slope = 15;    // stronger edges count no more
constexpr double weakest_slope = 2.5;  // grey levels per px
constexpr double beyond_mm = 1.5;      // as far out an edge makes one further in count less

double strength_of(const RayEdge& edge) {
    return std::min(1.0, edge.slope / strong_slope);
}

// An edge counts less when one as strong lies a little further out in the same direction: a wall's foot does.
void set_merits(std::vector<RayEdge>& edges, cv::Point2d centre_px, double little_px) {
    constexpr double beyond_counts = 0.6;
    for (std::size_t i = 0; i < edges.size(); ++i) {  // sorted by direction and by distance
        double beyond = 0;
        for (std::size_t k = i + 1; k < edges.size() && edges[k].direction == edges[i].direction; ++k) {
            const double further = cv::norm(edges[k].px - centre_px) - cv::norm(edges[i].px - centre_px);
            if (further > 0.5 && further < little_px) {
                beyond = std::max(beyond, strength_of(edges[k]));
            }
        }
        edges[i].merit = std::max(0.0, strength_of(edges[i]) - beyond_counts * beyond);
    }
}

// The edge nearest the circle in each direction that has one on it, moved to the view's height.
std::vector<RayEdge> on_circle(const std::vector<RayEdge>& edges, const Circle& circle,
                               const HoleRims& rims) {
    std::vector<std::optional<RayEdge>> best(ray_directions);
    const auto off = [&](const RayEdge& p) { return std::abs(inside(p.px, circle)); };
    for (RayEdge edge : edges) {
        edge.px = rims.of_bore(edge.px, circle);
        auto& place = best[static_cast<std::size_t>(edge.direction)];
        if (off(edge) < on_circle_px && (!place || off(edge) < off(*place))) {
            place = edge;
        }
    }
    std::vector<RayEdge> chosen;
    for (const auto& edge : best) {
        if (edge) {
            chosen.push_back(*edge);
        }
    }
    return chosen;
}

// How well a edge speaks for a circle, 0 to 1.
double nearness(const RayEdge& edge, const Circle& circle) {
    const double share = inside(edge.px, circle) / on_circle_px;
    return std::max(0.0, 1 - share * share);
}

double merit_of(const std::vector<RayEdge>& edges, const Circle& circle) {
    double sum = 0;
    for (const auto& edge : edges) {
        sum += edge.merit * nearness(edge, circle) / ray_directions;
    }
    return sum;
}

std::vector<cv::Point2d> places(const std::vector<RayEdge>& edges) {
    std::vector<cv::Point2d> points;
    points.reserve(edges.size());
    for (const auto& p : edges) {
        points.push_back(p.px);
    }
    return points;
}

std::optional<Circle> circle_through(const RayEdge& a, const RayEdge& b, const RayEdge& c) {
    const cv::Point2d u = b.px - a.px;
    const cv::Point2d v = c.px - a.px;
    const double det = 2 * u.cross(v);
    if (std::abs(det) < 1e-6) {
        return std::nullopt;
    }
    const cv::Point2d off((v.y * u.dot(u) - u.y * v.dot(v)) / det, (u.x * v.dot(v) - v.x * u.dot(u)) / det);
    return Circle{a.px + off, cv::norm(off), 0};
}

struct Tried {
    double merit = 0;
    Circle circle;
};

// Circles through three of the edges, the best first.
std::vector<Tried> circles_at_random(const std::vector<RayEdge>& edges, cv::Point2d centre_px, double from_px,
                                     double to_px, const HoleRims& rims) {
    constexpr int rounds = 900;
    constexpr double off_centre = 0.6;  // of the radius
    std::vector<Tried> tried;
    cv::RNG dice(1);  // the same photo gives the same numbers
    const auto pick = [&] {
        return edges[static_cast<std::size_t>(dice.uniform(0, static_cast<int>(edges.size())))];
    };
    for (int round = 0; round < rounds; ++round) {
        const auto circle = circle_through(pick(), pick(), pick());
        if (circle && circle->radius >= from_px && circle->radius <= to_px &&
            cv::norm(circle->centre - centre_px) < off_centre * circle->radius) {
            tried.push_back({merit_of(on_circle(edges, *circle, rims), *circle), *circle});
        }
    }
    std::sort(tried.begin(), tried.end(), [](const auto& a, const auto& b) { return a.merit > b.merit; });
    return tried;
}

bool is_known(const Circle& circle, const std::vector<RoundEdge>& known) {
    constexpr double alike_px = 0.8;
    return std::any_of(known.begin(), known.end(),
                       [&](const auto& other) { return furthest_apart(other.circle, circle) < alike_px; });
}

}  // namespace

bool RoundEdge::all_around() const {
    return static_cast<double>(edges.size()) >= least_share * ray_directions;
}

std::vector<RayEdge> edges_around(const FaceView& view, cv::Point2d centre_px, double from_px, double to_px) {
    std::vector<RayEdge> edges;
    const int count = static_cast<int>((to_px - from_px) / step_px) + 1;
    for (int d = 0; d < ray_directions; ++d) {
        const double angle = 2 * CV_PI * d / ray_directions;
        const cv::Point2d out(std::cos(angle), std::sin(angle));
        const Profile profile = profile_along(view.picture, centre_px + out * from_px, out * step_px, count);
        for (int i = 2; i + 2 < count; ++i) {
            const auto k = static_cast<std::size_t>(i);
            const auto slope = static_cast<double>(profile.slope[k]);
            if (slope > weakest_slope && profile.slope[k] >= profile.slope[k - 1] &&
                profile.slope[k] > profile.slope[k + 1]) {
                const double at = peak_near(profile.slope, i);
                edges.push_back({centre_px + out * (from_px + at * step_px), d, slope,
                                 contrast_across(profile, i, 1 / step_px), 0});
            }
        }
    }
    set_merits(edges, centre_px, beyond_mm * view.px_per_mm);
    return edges;
}

RoundEdge edges_on(const std::vector<RayEdge>& edges, const Circle& circle, const HoleRims& rims) {
    RoundEdge found{circle, on_circle(edges, circle, rims), 0};
    found.merit = merit_of(found.edges, circle);
    return found;
}

std::optional<RoundEdge> settled(const std::vector<RayEdge>& edges, Circle circle, const HoleRims& rims) {
    constexpr int rounds = 3;
    for (int round = 0; round < rounds; ++round) {
        const auto fitted = robust_circle(places(on_circle(edges, circle, rims)), circle, on_circle_px / 2);
        if (!fitted) {
            return std::nullopt;
        }
        circle = *fitted;
    }
    return edges_on(edges, circle, rims);
}

std::vector<RoundEdge> circles_in(const std::vector<RayEdge>& edges, cv::Point2d centre_px, double from_px,
                                  double to_px, const HoleRims& rims) {
    // Only edges worth it start circles and vote first; all of them settle the best.
    constexpr double worth_it = 0.35;
    std::vector<RayEdge> good;
    std::copy_if(edges.begin(), edges.end(), std::back_inserter(good),
                 [](const RayEdge& edge) { return edge.merit > worth_it; });
    if (static_cast<double>(good.size()) < least_share * ray_directions) {
        return {};
    }
    constexpr std::size_t most = 12;
    constexpr std::size_t most_tried = 60;
    const auto tried = circles_at_random(good, centre_px, from_px, to_px, rims);
    std::vector<RoundEdge> circles;
    for (std::size_t i = 0; i < tried.size() && i < most_tried && circles.size() < most; ++i) {
        if (is_known(tried[i].circle, circles)) {
            continue;
        }
        const auto found = settled(edges, tried[i].circle, rims);
        if (found && !is_known(found->circle, circles) && found->all_around()) {
            circles.push_back(*found);
        }
    }
    std::sort(circles.begin(), circles.end(),
              [](const auto& a, const auto& b) { return a.circle.radius < b.circle.radius; });
    return circles;
}

double evidence_for(const RoundEdge& found) {
    double sum = 0;
    for (const auto& edge : found.edges) {
        sum += strength_of(edge) * nearness(edge, found.circle) / ray_directions;
    }
    return sum;
}

}  // namespace stripbook::measure
