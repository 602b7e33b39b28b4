#include "measure/bore_choice.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "measure/bore_model.h"

namespace stripbook::measure {

namespace {

BoreLooks bore_looks(const HoleLooks& looks) {
    constexpr double widest_edge = 1.6;  // of the chamfer expected
    return {looks.blur_px, widest_edge * looks.chamfer_mm, looks.sight};
}

// The bores whose lower rim `seen` may be, all around or on the side where the wall shows while on the other
// it is their own; none where the wall hardly shows.
std::vector<Circle> bores_over(const Circle& seen, const HoleRims& rims) {
    constexpr double shows_px = 1.2;
    const auto above = rims.bore_of_lower_rim(seen);
    if (!above) {
        return {};
    }
    const cv::Point2d off = above->centre - seen.centre;
    const double off_px = cv::norm(off);
    const double wall_px = off_px + above->radius - seen.radius;
    if (wall_px < shows_px) {
        return {};
    }
    constexpr double least_px = 1e-6;
    const cv::Point2d to_wall = off / std::max(off_px, least_px);
    return {*above, {seen.centre + to_wall * (wall_px / 2), seen.radius + wall_px / 2, seen.rms}};
}

// Adds a circle unless it is there.
void add_new(const Circle& circle, std::vector<Circle>& circles) {
    constexpr double same_px = 0.5;
    const bool known = std::any_of(circles.begin(), circles.end(),
                                   [&](const Circle& one) { return furthest_apart(one, circle) < same_px; });
    if (!known) {
        circles.push_back(circle);
    }
}

// Farther off than this lies another thing, a stain's border for one: of 2,294 bores of made shots (seeds
// 33001 to 52001, not all) none that was right lay more than 0.9 mm from the circle first read.
constexpr double nearby_mm = 1.5;

// The two readings and all other circles of about their size.
std::vector<Circle> starts_for(const HoleEdge& hole, const FaceView& view) {
    std::vector<Circle> starts{in_view(hole.circle_mm, view), in_view(hole.second_mm, view)};
    for (const auto& other : hole.others_mm) {
        if (std::abs(other.radius - hole.circle_mm.radius) < nearby_mm) {
            add_new(in_view(other, view), starts);
        }
    }
    return starts;
}

std::vector<Circle> bores_over_all(const std::vector<Circle>& circles, const HoleRims& rims) {
    std::vector<Circle> bores;
    for (const auto& circle : circles) {
        for (const auto& bore : bores_over(circle, rims)) {
            add_new(bore, bores);
        }
    }
    return bores;
}

void set_each(const FaceView& view, const HoleLooks& looks, HoleEdge& hole) {
    const bool one = hole.second_mm.radius == hole.circle_mm.radius;
    const auto fitted = [&](const Circle& mm) {
        return in_mm(fit_bores(view, {in_view(mm, view)}, bore_looks(looks)).front().rim_px, view);
    };
    hole.circle_mm = fitted(hole.circle_mm);
    hole.second_mm = one ? hole.circle_mm : fitted(hole.second_mm);
}

// How far in diameter, mm, the bore taken is from that one of those that explain the picture all but as well
// as the best that is the least like it. Of 4,597 bores of made shots (seeds 49001 to 62001, not all) 40 have
// a wider one 0.3 mm off and more: those are off by 0.23 mm rms; of 7,642 16 have a narrower one: 0.3 mm. The
// others are off by 0.07.
double otherwise_mm(const std::vector<BoreFit>& fits, const Circle& taken_px, double least_misfit,
                    const FaceView& view) {
    constexpr double hardly_less = 300;  // squares of noise
    double most_px = 0;
    for (const auto& fit : fits) {
        const bool nearby = furthest_apart(fit.rim_px, taken_px) < nearby_mm * view.px_per_mm;
        if (nearby && fit.misfit < least_misfit + hardly_less) {
            most_px = std::max(most_px, std::abs(fit.rim_px.radius - taken_px.radius));
        }
    }
    return 2 * most_px / view.px_per_mm;
}

void set_best(const FaceView& view, const HoleLooks& looks, HoleEdge& hole) {
    // Squares of noise, of all directions; seen to tell on made shots with known truth (seeds 33001, 35001,
    // 41001, 42001).
    constexpr double clearly = 500;
    const auto starts = starts_for(hole, view);
    const auto fits =
        fit_bores(view, starts, bore_looks(looks), bores_over_all(starts, HoleRims(view, looks.sight)));
    const BoreFit& first = fits[0];
    const BoreFit* least = &first;
    for (const auto& fit : fits) {
        const bool nearby = furthest_apart(fit.rim_px, first.rim_px) < nearby_mm * view.px_per_mm;
        least = nearby && fit.misfit < least->misfit ? &fit : least;
    }
    const BoreFit& best = least->misfit < first.misfit - clearly ? *least : first;
    const bool no_other = fits[1].misfit > best.misfit + clearly;
    hole.circle_mm = in_mm(best.rim_px, view);
    hole.second_mm = no_other ? hole.circle_mm : in_mm(fits[1].rim_px, view);
    hole.otherwise_mm = otherwise_mm(fits, best.rim_px, least->misfit, view);
}

}  // namespace

void choose_bore(const FaceView& view, const HoleLooks& looks, HoleEdge& hole) {
    if (is_thin(looks.sight)) {
        set_each(view, looks, hole);
    } else {
        set_best(view, looks, hole);
    }
}

}  // namespace stripbook::measure
