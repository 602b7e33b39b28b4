#include "measure/cast_shadow.h"

#include <algorithm>
#include <cmath>

#include "measure/hole_rims.h"
#include "measure/quantile.h"

namespace stripbook::measure {

namespace {

struct Ground {
    cv::Point2d mm;  // from the hole's centre
    double light = 0;
};

// The ground seen through one hole, as far from its rim as a shadow may reach.
struct HoleGround {
    double radius_mm = 0;
    std::vector<Ground> places;
    double mean = 0;
    double squares = 0;  // of the lights' distances from their mean
};

HoleGround ground_through(const ViewLight& bench, const Circle& hole, const Circle& rim_seen,
                          double reach_mm) {
    constexpr double clear_of_rim = 0.03;  // of the radius
    constexpr double most_places = 4000;
    HoleGround ground;
    ground.radius_mm = hole.radius;
    const double step_mm =
        std::max(1 / bench.px_per_mm(), std::sqrt(CV_PI * hole.radius * hole.radius / most_places));
    const int steps = static_cast<int>(hole.radius / step_mm);
    const double clear_mm = clear_of_rim * hole.radius;
    for (int j = -steps; j <= steps; ++j) {
        for (int i = -steps; i <= steps; ++i) {
            const cv::Point2d off = step_mm * cv::Point2d(i, j);
            const double deep = hole.radius - cv::norm(off);
            if (deep > clear_mm && deep < reach_mm && inside(hole.centre + off, rim_seen) > clear_mm) {
                ground.places.push_back({off, bench.at(hole.centre + off)});
            }
        }
    }
    for (const auto& place : ground.places) {
        ground.mean += place.light / static_cast<double>(ground.places.size());
    }
    for (const auto& place : ground.places) {
        ground.squares += (place.light - ground.mean) * (place.light - ground.mean);
    }
    return ground;
}

// How much of the squares the moved rim explains: those between the mean in its light and the mean in
// its shadow. 0 where the light is not the brighter one.
double explained(const HoleGround& ground, cv::Point2d shadow_mm) {
    constexpr double fewest = 10;
    double lit = 0;
    double lit_sum = 0;
    for (const auto& place : ground.places) {
        const cv::Point2d off = place.mm - shadow_mm;
        if (off.dot(off) < ground.radius_mm * ground.radius_mm) {
            lit += 1;
            lit_sum += place.light;
        }
    }
    const auto count = static_cast<double>(ground.places.size());
    const double dark = count - lit;
    if (lit < fewest || dark < fewest) {
        return 0;
    }
    const double lit_mean = lit_sum / lit;
    const double dark_mean = (count * ground.mean - lit_sum) / dark;
    return lit_mean > dark_mean ? lit * dark / count * (lit_mean - dark_mean) * (lit_mean - dark_mean) : 0;
}

double explained(const std::vector<HoleGround>& grounds, cv::Point2d shadow_mm) {
    double sum = 0;
    for (const auto& ground : grounds) {
        sum += explained(ground, shadow_mm);
    }
    return sum;
}

// The best of a lattice of shadows, `step_mm` apart and up to `steps` of them away from `from`.
cv::Point2d best_around(const std::vector<HoleGround>& grounds, cv::Point2d from, double step_mm, int steps) {
    cv::Point2d best = from;
    double most = explained(grounds, from);
    for (int j = -steps; j <= steps; ++j) {
        for (int i = -steps; i <= steps; ++i) {
            const cv::Point2d shadow = from + step_mm * cv::Point2d(i, j);
            const double now = explained(grounds, shadow);
            if (now > most) {
                most = now;
                best = shadow;
            }
        }
    }
    return best;
}

double face_around(const ViewLight& bench, const std::vector<Circle>& rims) {
    constexpr double clear_mm = 1;
    constexpr int places = 90;
    std::vector<double> light;
    for (const auto& rim : rims) {
        for (int i = 0; i < places; ++i) {
            const double turn = 2 * CV_PI * i / places;
            const cv::Point2d mm =
                rim.centre + (rim.radius + clear_mm) * cv::Point2d(std::cos(turn), std::sin(turn));
            light.push_back(bench.at(mm));
        }
    }
    return middle_value(std::move(light));
}

// Where the rims of holes given at their foot are seen, drawn on the bench.
std::vector<Circle> rims_seen(const std::vector<Circle>& holes_mm, const RimsAbove& rims) {
    const double larger = rims.seen_larger();
    std::vector<Circle> seen;
    seen.reserve(holes_mm.size());
    for (const auto& hole : holes_mm) {
        seen.push_back(
            {rims.camera_foot_mm + larger * (hole.centre - rims.camera_foot_mm), larger * hole.radius, 0});
    }
    return seen;
}

CastShadow looks_of(const std::vector<HoleGround>& grounds, cv::Point2d shadow_mm, double face) {
    constexpr double clear_mm = 0.15;
    constexpr double least_light = 1e-4;
    std::vector<double> lit;
    std::vector<double> dark;
    for (const auto& ground : grounds) {
        for (const auto& place : ground.places) {
            const double inside_mm = ground.radius_mm - cv::norm(place.mm - shadow_mm);
            if (std::abs(inside_mm) > clear_mm) {
                (inside_mm > 0 ? lit : dark).push_back(place.light);
            }
        }
    }
    if (lit.empty() || dark.empty()) {
        return {shadow_mm, 1, 1};
    }
    const double ground = std::max(least_light, middle_value(std::move(lit)));
    return {shadow_mm, middle_value(std::move(dark)) / ground, face / ground};
}

}  // namespace

bool CastShadow::hides_edge() const {
    constexpr double alike = 1.25;
    constexpr double clearly_darker = 0.45;  // on paler ground the lit ground's borders are not clear
    return face < alike * shade && face < clearly_darker;
}

double longest_shadow_mm(double height_mm) {
    constexpr double lowest_light = 1.5;  // the shadow's length over the height: 34 degrees over the bench
    return lowest_light * height_mm;
}

std::optional<CastShadow> shadow_in_holes(const ViewLight& bench, const std::vector<Circle>& holes_mm,
                                          const RimsAbove& rims) {
    const double longest_mm = longest_shadow_mm(rims.height_mm);
    const std::vector<Circle> seen = rims_seen(holes_mm, rims);
    std::vector<HoleGround> grounds;
    double squares = 0;
    for (std::size_t i = 0; i < holes_mm.size(); ++i) {
        grounds.push_back(ground_through(bench, holes_mm[i], seen[i], longest_mm));
        squares += grounds.back().squares;
    }
    constexpr int coarse = 7;
    constexpr double finest_mm = 0.02;
    double step_mm = longest_mm / coarse;
    cv::Point2d shadow = best_around(grounds, {0, 0}, step_mm, coarse);
    while (step_mm > finest_mm) {
        step_mm /= 2;
        shadow = best_around(grounds, shadow, step_mm, 1);
    }
    constexpr double clearly = 0.5;  // of the squares
    const bool told = squares > 0 && explained(grounds, shadow) > clearly * squares;
    if (!told || cv::norm(shadow) > longest_mm) {
        return std::nullopt;
    }
    return looks_of(grounds, shadow, face_around(bench, seen));
}

double face_over_ground(const ViewLight& bench, const std::vector<Circle>& holes_mm, const RimsAbove& rims) {
    constexpr double least_light = 1e-4;
    const std::vector<Circle> seen = rims_seen(holes_mm, rims);
    std::vector<double> ground;
    for (std::size_t i = 0; i < holes_mm.size(); ++i) {
        for (const auto& place : ground_through(bench, holes_mm[i], seen[i], holes_mm[i].radius).places) {
            ground.push_back(place.light);
        }
    }
    if (ground.empty()) {
        return 1;
    }
    const auto bright = ground.begin() + static_cast<std::ptrdiff_t>(ground.size() * 7 / 8);
    std::nth_element(ground.begin(), bright, ground.end());
    return face_around(bench, seen) / std::max(least_light, *bright);
}

}  // namespace stripbook::measure
