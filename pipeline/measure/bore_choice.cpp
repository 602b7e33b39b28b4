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

// The two readings and all other circles of about their size.
std::vector<Circle> starts_for(const HoleEdge& hole, const FaceView& view) {
    constexpr double nearby_mm = 1.5;
    constexpr double same_px = 0.5;
    std::vector<Circle> starts{in_view(hole.circle_mm, view), in_view(hole.second_mm, view)};
    for (const auto& other : hole.others_mm) {
        const Circle start = in_view(other, view);
        const bool known = std::any_of(starts.begin(), starts.end(), [&](const Circle& one) {
            return cv::norm(one.centre - start.centre) + std::abs(one.radius - start.radius) < same_px;
        });
        if (!known && std::abs(other.radius - hole.circle_mm.radius) < nearby_mm) {
            starts.push_back(start);
        }
    }
    return starts;
}

void set_each(const FaceView& view, const HoleLooks& looks, HoleEdge& hole) {
    const bool one = hole.second_mm.radius == hole.circle_mm.radius;
    const auto fitted = [&](const Circle& mm) {
        return in_mm(fit_bores(view, {in_view(mm, view)}, bore_looks(looks)).front().rim_px, view);
    };
    hole.circle_mm = fitted(hole.circle_mm);
    hole.second_mm = one ? hole.circle_mm : fitted(hole.second_mm);
}

void set_best(const FaceView& view, const HoleLooks& looks, HoleEdge& hole) {
    // Squares of noise, of all directions; seen to tell on made shots with known truth (seeds 21001, 27001,
    // 30001, 33001).
    constexpr double clearly = 800;
    constexpr double clearly_less = 500;
    const auto fits = fit_bores(view, starts_for(hole, view), bore_looks(looks));
    const auto least = std::min_element(fits.begin(), fits.end(),
                                        [](const auto& a, const auto& b) { return a.misfit < b.misfit; });
    const BoreFit& best = least->misfit < fits[0].misfit - clearly ? *least : fits[0];
    const bool no_other = fits[1].misfit > best.misfit + clearly_less;
    hole.circle_mm = in_mm(best.rim_px, view);
    hole.second_mm = no_other ? hole.circle_mm : in_mm(fits[1].rim_px, view);
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
