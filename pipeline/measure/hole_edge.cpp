#include "measure/hole_edge.h"

#include <algorithm>
#include <cmath>

#include "measure/hole_rims.h"
#include "measure/round_edges.h"

namespace stripbook::measure {

namespace {

constexpr double resolved_px = 2;  // a broken edge narrower than that is no ring of its own

Circle finished(const FaceView& view, const RoundEdge& found, const Bloom& bloom) {
    std::vector<cv::Point2d> points;
    for (const auto& edge : found.edges) {
        const cv::Point2d off = edge.px - found.circle.centre;
        // Bright outside the hole: the edge seen lies inside the true one.
        points.push_back(edge.px + off / cv::norm(off) * (bloom.px_per_contrast * edge.contrast));
    }
    const auto refined = robust_circle(points, found.circle, on_circle_px / 2);
    return in_mm(refined ? *refined : found.circle, view);
}

// The share of the directions in which a lower rim can be seen through its bore.
double seen_through(const Circle& bore, const Circle& lower) {
    int seen = 0;
    for (int k = 0; k < ray_directions; ++k) {
        const double turn = 2 * CV_PI * k / ray_directions;
        const cv::Point2d px = lower.centre + lower.radius * cv::Point2d(std::cos(turn), std::sin(turn));
        seen += cv::norm(px - bore.centre) < bore.radius + on_circle_px ? 1 : 0;
    }
    return static_cast<double>(seen) / ray_directions;
}

// Whether `lower` looks as the lower rim of `bore` must.
bool lower_rim_of(const RoundEdge& lower, const RoundEdge& bore, const HoleRims& rims) {
    constexpr double near_px = 1.5;
    constexpr double slack = 0.05;
    const double shown = static_cast<double>(lower.edges.size()) / ray_directions;
    const auto above = rims.bore_of_lower_rim(lower.circle);
    return above && furthest_apart(*above, lower.circle) > near_px &&
           furthest_apart(bore.circle, *above) < near_px &&
           shown < seen_through(bore.circle, lower.circle) + slack;
}

// From straight above, a bore's lower rim is a whole circle too, a little narrower than the bore. A broken
// edge may be as much wider than the bore, but then the bore has a lower rim itself.
bool only_a_lower_rim(const RoundEdge& found, const std::vector<RoundEdge>& all, const HoleRims& rims) {
    constexpr double nearly_as_evident = 0.8;
    const double least = nearly_as_evident * evidence_for(found);
    const auto any = [&](const auto& fits) {
        return std::any_of(all.begin(), all.end(), [&](const RoundEdge& other) {
            return fits(other) && evidence_for(other) > least;
        });
    };
    return any([&](const RoundEdge& other) { return lower_rim_of(found, other, rims); }) &&
           !any([&](const RoundEdge& other) { return lower_rim_of(other, found, rims); });
}

// How evident an edge is at about this circle itself.
double evidence_at(const std::vector<RayEdge>& edges, const Circle& circle, const HoleRims& plain) {
    constexpr double off_px = 0.6;
    double most = 0;
    for (const double wider : {-off_px, -off_px / 2, 0.0, off_px / 2, off_px}) {
        most =
            std::max(most, evidence_for(edges_on(edges, {circle.centre, circle.radius + wider, 0}, plain)));
    }
    return most;
}

// From straight above and on a bright ground, a dark bore's lower rim may be the only clear circle. Whether
// an edge is where its bore's rim must be, or where its own lower rim must be, tells which of the two it is.
// `plain`: rims of a hole without depth.
RoundEdge raised(const RoundEdge& found, const std::vector<RayEdge>& edges, const HoleRims& rims,
                 const HoleRims& plain) {
    constexpr double told_apart_px = 1.5;
    constexpr double clearly_more = 0.1;
    constexpr double nearly_all = 1.5;  // then three quarters of the lower rim show
    const auto bore = rims.bore_of_lower_rim(found.circle);
    const auto lower = rims.lower_rim_of_bore(found.circle);
    if (!bore || !lower) {
        return found;
    }
    const double wider_px = bore->radius - found.circle.radius;
    const bool walled_nearly_all_around =
        cv::norm(bore->centre - found.circle.centre) < nearly_all * wider_px;
    if (furthest_apart(*bore, found.circle) < told_apart_px || !walled_nearly_all_around ||
        evidence_at(edges, *bore, plain) < evidence_at(edges, *lower, plain) + clearly_more) {
        return found;
    }
    return settled(edges, *bore, rims).value_or(found);
}

// Each circle may be the outer rim of a broken edge: they and the bores found as far within as that says.
std::vector<RoundEdge> with_bores_below(const std::vector<RayEdge>& edges,
                                        const std::vector<RoundEdge>& circles, double chamfer_px,
                                        const HoleRims& rims) {
    std::vector<RoundEdge> all = circles;
    for (const auto& circle : circles) {
        if (chamfer_px < resolved_px) {
            break;
        }
        const cv::Point2d centre = rims.of_higher(circle.circle.centre, chamfer_px);
        const auto bore = settled(edges, {centre, circle.circle.radius - chamfer_px, 0}, rims);
        if (bore && bore->all_around()) {
            all.push_back(*bore);
        }
    }
    return all;
}

// What the edges of one hole can be told to be.
class Choice {
  public:
    // `best`: the circle with the strongest edge all around, the bore's rim or the outer rim of its edge.
    Choice(const std::vector<RoundEdge>& all, const RoundEdge& best, double chamfer_px, const HoleRims& rims)
        : all_(all), best_(best), chamfer_px_(chamfer_px), rims_(rims) {}

    // The narrowest circle about the same centre as the best that may be the bore. One with clearly more
    // evidence than the best may lie less exactly about its centre.
    [[nodiscard]] RoundEdge bore() const {
        RoundEdge narrow = best_;
        for (const auto& found : all_) {
            if (found.circle.radius < narrow.circle.radius && near_enough(found) && may_be_bore(found)) {
                narrow = found;
            }
        }
        return narrow;
    }

    // The circle with the most evidence that may be the bore, whatever its centre; of some with nearly as
    // much the narrowest.
    [[nodiscard]] RoundEdge most_evident() const {
        constexpr double nearly_as_much = 0.97;
        std::vector<const RoundEdge*> possible{&best_};
        double most = evidence_for(best_);
        for (const auto& found : all_) {
            if (may_be_bore(found)) {
                possible.push_back(&found);
                most = std::max(most, evidence_for(found));
            }
        }
        const RoundEdge* narrow = nullptr;
        for (const auto* found : possible) {
            if (evidence_for(*found) > nearly_as_much * most &&
                (narrow == nullptr || found->circle.radius < narrow->circle.radius)) {
                narrow = found;
            }
        }
        return narrow == nullptr ? best_ : *narrow;
    }

  private:
    // Not wider than the best, and no further in than a broken edge could be wide.
    [[nodiscard]] bool may_be_bore(const RoundEdge& found) const {
        constexpr double widest = 1.7;  // of the chamfer expected
        constexpr double slack_px = 0.5;
        const double within_px = best_.circle.radius - found.circle.radius;
        return within_px > -slack_px && within_px < widest * chamfer_px_ + slack_px &&
               !only_a_lower_rim(found, all_, rims_);
    }

    [[nodiscard]] bool near_enough(const RoundEdge& found) const {
        constexpr double same_centre_px = 1.8;
        constexpr double near_centre_px = 4;
        constexpr double enough = 0.7;
        constexpr double as_much = 1;
        constexpr double clearly_more = 1.2;
        const double evidence = evidence_for(found) / evidence_for(best_);
        const double off_px = cv::norm(found.circle.centre - best_.circle.centre);
        // Were the best the outer rim of an edge broken at 45 degrees, it would lie as much higher as wider.
        const double wider_px = best_.circle.radius - found.circle.radius;
        const double off_below_px =
            cv::norm(found.circle.centre - rims_.of_higher(best_.circle.centre, wider_px));
        return (off_px < same_centre_px && evidence > enough) ||
               (off_below_px < same_centre_px && evidence > as_much && chamfer_px_ > resolved_px) ||
               (off_px < near_centre_px && evidence > clearly_more);
    }

    const std::vector<RoundEdge>& all_;
    const RoundEdge& best_;
    double chamfer_px_;
    const HoleRims& rims_;
};

}  // namespace

bool is_hole(const HoleEdge& edge, double px_per_mm) {
    constexpr double least_support = 0.75;
    constexpr double least_evidence =
        0.45;  // on rendered shots holes have 0.5 and more, round stains up to 0.4
    // Small round stains are common; of 389 holes under 7 mm on made shots all but one have more than this.
    constexpr double small_mm = 5;
    constexpr double least_evidence_small = 0.55;
    constexpr double most_rms_share = 0.03;  // of the radius
    constexpr double most_rms_px = 0.6;
    const bool small = 2 * edge.circle_mm.radius < small_mm;
    return edge.support >= least_support &&
           edge.evidence >= (small ? least_evidence_small : least_evidence) &&
           edge.circle_mm.rms < std::max(most_rms_px / px_per_mm, most_rms_share * edge.circle_mm.radius) &&
           2 * edge.circle_mm.radius >= smallest_hole_mm;
}

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
    const auto edges = edges_around(view, centre, from - 3, to + 3);
    const HoleRims rims(view, looks.sight);
    const auto circles = circles_in(edges, centre, from, to, rims);
    const auto best = std::max_element(circles.begin(), circles.end(),
                                       [](const auto& a, const auto& b) { return a.merit < b.merit; });
    if (best == circles.end()) {
        return std::nullopt;
    }
    const double chamfer_px = looks.chamfer_mm * view.px_per_mm;
    const auto all = with_bores_below(edges, circles, chamfer_px, rims);
    const Choice choice(all, *best, chamfer_px, rims);
    const HoleRims plain(view, {looks.sight.foot_mm, looks.sight.above_mm, 0});
    const RoundEdge bore = raised(choice.bore(), edges, rims, plain);
    const RoundEdge second = raised(choice.most_evident(), edges, rims, plain);
    HoleEdge hole;
    const Circle strongest_mm = finished(view, raised(*best, edges, rims, plain), looks.bloom);
    const Circle bore_mm = finished(view, bore, looks.bloom);
    hole.circle_mm = {strongest_mm.centre, bore_mm.radius, strongest_mm.rms};
    hole.centre_mm = bore_mm.centre;
    hole.second_mm = finished(view, second, looks.bloom);
    constexpr double nearly_as_strong = 0.7;
    for (const auto& other : all) {
        if (other.merit > nearly_as_strong * best->merit) {
            hole.others_mm.push_back(finished(view, other, looks.bloom));
        }
    }
    hole.middles_apart_mm = cv::norm(strongest_mm.centre - hole.second_mm.centre);
    hole.support = static_cast<double>(best->edges.size()) / ray_directions;
    hole.evidence = evidence_for(bore);
    return hole;
}

}  // namespace stripbook::measure
