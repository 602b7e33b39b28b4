// What the plane's covariance does to sizes: the law of propagation (JCGM 100, 5.2.2) with numerical
// sensitivities.
#pragma once

#include <functional>
#include <vector>

#include "measure/face_outline.h"
#include "scale/plane.h"

namespace stripbook::measure {

/// Standard uncertainties of one value, in its unit. The covariance of pose and lens is shared out so that
/// the squares add up: `corners` is what remains when the lens is known, `lens` the rest.
struct PlaneShares {
    double corners = 0;
    double lens = 0;
    double height = 0;
};

using SizeFunction = std::function<std::vector<double>(const scale::Plane&, const Heights&)>;

/// For each value that `sizes` gives. `u_height_mm` is that of the face's height alone.
std::vector<PlaneShares> plane_shares(const SizeFunction& sizes, const scale::Plane& plane,
                                      const Heights& heights, double u_height_mm);

}  // namespace stripbook::measure
