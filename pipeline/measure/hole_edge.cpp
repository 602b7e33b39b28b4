#include "measure/hole_edge.h"

#include <algorithm>
#include <cmath>
#include <iterator>

#include "measure/edge_profile.h"
#include "measure/hole_rims.h"

namespace stripbook::measure {

namespace {

constexpr int directions = 120;
constexpr double step_px = 0.25;
constexpr double on_circle_px = 1.2;   // an edge this near lies on it
constexpr double strong_slope = 15;    // stronger edges count no more
constexpr double weakest_slope = 2.5;  // grey levels per px
constexpr double all_around = 0.7;     // of the directions
constexpr double widest_chamfer_mm = 1.5;

struct Peak {
    cv::Point2d px;
    int direction = 0;
    double slope = 0;
    double contrast = 0;  // positive: brighter outside the hole
    double merit = 0;     // 0 to 1: a strong slope, and none as strong a little further out
};

double strength_of(const Peak& peak) {
    return std::min(1.0, peak.slope / strong_slope);
}

// An edge counts less when one as strong lies a little further out in the same direction: a wall's foot does.
void set_merits(std::vector<Peak>& peaks, cv::Point2d centre_px, double little_px) {
    constexpr double beyond_counts = 0.6;
    for (std::size_t i = 0; i < peaks.size(); ++i) {  // sorted by direction and by distance
        double beyond = 0;
        for (std::size_t k = i + 1; k < peaks.size() && peaks[k].direction == peaks[i].direction; ++k) {
            const double further = cv::norm(peaks[k].px - centre_px) - cv::norm(peaks[i].px - centre_px);
            if (further > 0.5 && further < little_px) {
                beyond = std::max(beyond, strength_of(peaks[k]));
            }
        }
        peaks[i].merit = std::max(0.0, strength_of(peaks[i]) - beyond_counts * beyond);
    }
}

std::vector<Peak> peaks_along(const FaceView& view, cv::Point2d centre_px, double from_px, double to_px) {
    std::vector<Peak> peaks;
    const int count = static_cast<int>((to_px - from_px) / step_px) + 1;
    for (int d = 0; d < directions; ++d) {
        const double angle = 2 * CV_PI * d / directions;
        const cv::Point2d out(std::cos(angle), std::sin(angle));
        const Profile profile = profile_along(view.picture, centre_px + out * from_px, out * step_px, count);
        for (int i = 2; i + 2 < count; ++i) {
            const auto k = static_cast<std::size_t>(i);
            const auto slope = static_cast<double>(profile.slope[k]);
            if (slope > weakest_slope && profile.slope[k] >= profile.slope[k - 1] &&
                profile.slope[k] > profile.slope[k + 1]) {
                const double at = peak_near(profile.slope, i);
                peaks.push_back({centre_px + out * (from_px + at * step_px), d, slope,
                                 contrast_across(profile, i, 1 / step_px), 0});
            }
        }
    }
    set_merits(peaks, centre_px, widest_chamfer_mm * view.px_per_mm);
    return peaks;
}

// The peak nearest the circle in each direction that has one on it, moved to the view's height.
std::vector<Peak> on_circle(const std::vector<Peak>& peaks, const Circle& circle, const HoleRims& rims) {
    std::vector<std::optional<Peak>> best(directions);
    const auto off = [&](const Peak& p) { return std::abs(inside(p.px, circle)); };
    for (Peak peak : peaks) {
        peak.px = rims.of_bore(peak.px, circle);
        auto& place = best[static_cast<std::size_t>(peak.direction)];
        if (off(peak) < on_circle_px && (!place || off(peak) < off(*place))) {
            place = peak;
        }
    }
    std::vector<Peak> chosen;
    for (const auto& peak : best) {
        if (peak) {
            chosen.push_back(*peak);
        }
    }
    return chosen;
}

// How well a peak speaks for a circle, 0 to 1.
double nearness(const Peak& peak, const Circle& circle) {
    const double share = inside(peak.px, circle) / on_circle_px;
    return std::max(0.0, 1 - share * share);
}

double merit_of(const std::vector<Peak>& peaks, const Circle& circle) {
    double sum = 0;
    for (const auto& peak : peaks) {
        sum += peak.merit * nearness(peak, circle) / directions;
    }
    return sum;
}

std::vector<cv::Point2d> places(const std::vector<Peak>& peaks) {
    std::vector<cv::Point2d> points;
    points.reserve(peaks.size());
    for (const auto& p : peaks) {
        points.push_back(p.px);
    }
    return points;
}

struct Found {
    Circle circle;
    std::vector<Peak> peaks;
    double score = 0;  // support times strength, the latter bounded
};

std::optional<Found> settle(const std::vector<Peak>& peaks, Circle circle, const HoleRims& rims) {
    constexpr int rounds = 3;
    for (int round = 0; round < rounds; ++round) {
        const auto fitted = robust_circle(places(on_circle(peaks, circle, rims)), circle, on_circle_px / 2);
        if (!fitted) {
            return std::nullopt;
        }
        circle = *fitted;
    }
    Found found{circle, on_circle(peaks, circle, rims), 0};
    found.score = merit_of(found.peaks, circle);
    return found;
}

std::optional<Circle> circle_through(const Peak& a, const Peak& b, const Peak& c) {
    const cv::Point2d u = b.px - a.px;
    const cv::Point2d v = c.px - a.px;
    const double det = 2 * u.cross(v);
    if (std::abs(det) < 1e-6) {
        return std::nullopt;
    }
    const cv::Point2d off((v.y * u.dot(u) - u.y * v.dot(v)) / det, (u.x * v.dot(v) - v.x * u.dot(u)) / det);
    return Circle{a.px + off, cv::norm(off), 0};
}

// Circles through three edges at random (Fischler and Bolles, 1981), the well supported ones settled;
// distinct ones, by radius.
std::vector<Found> circles_in(const std::vector<Peak>& peaks, cv::Point2d centre_px, double from_px,
                              double to_px, const HoleRims& rims) {
    constexpr int rounds = 900;
    constexpr std::size_t most = 12;
    constexpr double alike_px = 0.8;
    std::vector<std::pair<double, Circle>> tried;
    cv::RNG dice(1);  // the same photo gives the same numbers
    // Only edges worth it start circles and vote first; all of them settle the best.
    constexpr double worth_it = 0.35;
    std::vector<Peak> good;
    std::copy_if(peaks.begin(), peaks.end(), std::back_inserter(good),
                 [](const Peak& p) { return p.merit > worth_it; });
    const int n = static_cast<int>(good.size());
    if (n < all_around * directions) {
        return {};
    }
    for (int round = 0; round < rounds && n >= 3; ++round) {
        const auto pick = [&] { return good[static_cast<std::size_t>(dice.uniform(0, n))]; };
        const auto circle = circle_through(pick(), pick(), pick());
        if (circle && circle->radius >= from_px && circle->radius <= to_px &&
            cv::norm(circle->centre - centre_px) < 0.6 * circle->radius) {
            tried.emplace_back(merit_of(on_circle(good, *circle, rims), *circle), *circle);
        }
    }
    std::sort(tried.begin(), tried.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
    std::vector<Found> circles;
    const auto known = [&](const Circle& circle) {
        return std::any_of(circles.begin(), circles.end(), [&](const auto& c) {
            return std::abs(c.circle.radius - circle.radius) + cv::norm(c.circle.centre - circle.centre) <
                   alike_px;
        });
    };
    for (std::size_t i = 0; i < tried.size() && i < 60 && circles.size() < most; ++i) {
        if (known(tried[i].second)) {
            continue;
        }
        const auto found = settle(peaks, tried[i].second, rims);
        if (found && !known(found->circle) &&
            static_cast<double>(found->peaks.size()) >= all_around * directions) {
            circles.push_back(*found);
        }
    }
    std::sort(circles.begin(), circles.end(),
              [](const auto& a, const auto& b) { return a.circle.radius < b.circle.radius; });
    return circles;
}

HoleEdge finished(const FaceView& view, const Found& found, const Bloom& bloom) {
    std::vector<cv::Point2d> points;
    for (const auto& peak : found.peaks) {
        const cv::Point2d off = peak.px - found.circle.centre;
        // Bright outside the hole: the edge seen lies inside the true one.
        points.push_back(peak.px + off / cv::norm(off) * (bloom.px_per_contrast * peak.contrast));
    }
    const auto refined = robust_circle(points, found.circle, on_circle_px / 2);
    const Circle circle = refined ? *refined : found.circle;
    return {{view.mm_from_view(circle.centre), circle.radius / view.px_per_mm, circle.rms / view.px_per_mm},
            static_cast<double>(found.peaks.size()) / directions,
            0};
}

double evidence_for(const Found& found) {
    double sum = 0;
    for (const auto& peak : found.peaks) {
        sum += strength_of(peak) * nearness(peak, found.circle) / directions;
    }
    return sum;
}

// Whether `lower` looks as the lower rim of `bore` must.
bool lower_rim_of(const Found& lower, const Found& bore, const HoleRims& rims) {
    constexpr double near_px = 1.5;
    const auto above = rims.bore_of_lower_rim(lower.circle);
    return above && above->radius - lower.circle.radius > near_px &&
           std::abs(bore.circle.radius - above->radius) + cv::norm(bore.circle.centre - above->centre) <
               near_px;
}

// From straight above, a bore's lower rim is a whole circle too, a little narrower than the bore. A broken
// edge may be as much wider than the bore, but then the bore has a lower rim itself.
bool only_a_lower_rim(const Found& found, const std::vector<Found>& all, const HoleRims& rims) {
    constexpr double nearly_as_evident = 0.8;
    const double least = nearly_as_evident * evidence_for(found);
    const auto any = [&](const auto& fits) {
        return std::any_of(all.begin(), all.end(),
                           [&](const Found& other) { return fits(other) && evidence_for(other) > least; });
    };
    return any([&](const Found& other) { return lower_rim_of(found, other, rims); }) &&
           !any([&](const Found& other) { return lower_rim_of(other, found, rims); });
}

// The narrowest circle about the same centre as the best, no further in than a broken edge could be wide: the
// bore. The best may be the outer rim of such an edge; whether the bore lies as far within is tried. One with
// clearly more evidence than the best may lie less exactly about its centre.
Found bore_within(const std::vector<Peak>& peaks, const std::vector<Found>& circles, const Found& best,
                  double chamfer_px, const HoleRims& rims) {
    constexpr double same_centre_px = 1.8;
    constexpr double near_centre_px = 4;
    constexpr double widest = 1.7;  // of the chamfer expected
    constexpr double enough = 0.7;
    constexpr double as_much = 1;
    constexpr double clearly_more = 1.2;
    constexpr double resolved_px = 2;
    std::vector<Found> tried = circles;
    for (const auto& circle : circles) {
        if (chamfer_px < resolved_px) {
            break;
        }
        const cv::Point2d centre = rims.of_higher(circle.circle.centre, chamfer_px);
        const auto bore = settle(peaks, {centre, circle.circle.radius - chamfer_px, 0}, rims);
        if (bore && static_cast<double>(bore->peaks.size()) >= all_around * directions) {
            tried.push_back(*bore);
        }
    }
    Found narrow = best;
    const double evidence_of_best = evidence_for(best);
    for (const auto& found : tried) {
        const double off_px = cv::norm(found.circle.centre - best.circle.centre);
        // Were the best the outer rim of an edge broken at 45 degrees, it would lie as much higher as wider.
        const double wider_px = best.circle.radius - found.circle.radius;
        const double off_below_px =
            cv::norm(found.circle.centre - rims.of_higher(best.circle.centre, wider_px));
        const double evidence = evidence_for(found) / evidence_of_best;
        if (found.circle.radius < narrow.circle.radius &&
            found.circle.radius > best.circle.radius - widest * chamfer_px - 0.5 &&
            ((off_px < same_centre_px && evidence > enough) ||
             (off_below_px < same_centre_px && evidence > as_much && chamfer_px > resolved_px) ||
             (off_px < near_centre_px && evidence > clearly_more)) &&
            !only_a_lower_rim(found, tried, rims)) {
            narrow = found;
        }
    }
    return narrow;
}

}  // namespace

std::optional<HoleEdge> hole_edge(const FaceView& view, const Circle& rough_mm, const HoleLooks& looks) {
    const cv::Point2d centre = view.view_from_mm(rough_mm.centre);
    const double radius = rough_mm.radius * view.px_per_mm;
    constexpr double smallest_px = 5;
    const double slack = looks.slack_mm * view.px_per_mm;
    const double from = std::max(smallest_px, slack > 0 ? radius - slack : 0.6 * radius - 3);
    const double to = slack > 0 ? radius + slack : 1.35 * radius + 6;
    if (to <= from + 1) {
        return std::nullopt;
    }
    const auto peaks = peaks_along(view, centre, from - 3, to + 3);
    const HoleRims rims(view, looks.sight);
    const auto circles = circles_in(peaks, centre, from, to, rims);
    const auto best = std::max_element(circles.begin(), circles.end(),
                                       [](const auto& a, const auto& b) { return a.score < b.score; });
    if (best == circles.end()) {
        return std::nullopt;
    }
    HoleEdge edge = finished(view, *best, looks.bloom);
    const Found bore = bore_within(peaks, circles, *best, looks.chamfer_mm * view.px_per_mm, rims);
    edge.circle_mm.radius = finished(view, bore, looks.bloom).circle_mm.radius;
    edge.evidence = evidence_for(bore);
    return edge;
}

}  // namespace stripbook::measure
