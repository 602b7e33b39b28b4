#include "measure/plane_uncertainty.h"

#include <cmath>

namespace stripbook::measure {

namespace {

using scale::plane_parameters;
using Row = cv::Matx<double, 1, plane_parameters>;

constexpr int pose = 6;
constexpr int bloom = plane_parameters - 1;

// The covariance of everything but the lens when the lens is known (conditional of a normal distribution).
scale::PlaneCovariance given_lens(const scale::PlaneCovariance& all) {
    constexpr int lens = scale::lens_parameters;
    cv::Matx<double, lens, lens> of_lens;
    cv::Matx<double, plane_parameters, lens> with_lens;
    for (int j = 0; j < lens; ++j) {
        for (int i = 0; i < lens; ++i) {
            of_lens(i, j) = all(pose + i, pose + j);
        }
        for (int i = 0; i < plane_parameters; ++i) {
            with_lens(i, j) = all(i, pose + j);
        }
    }
    const cv::Matx<double, lens, lens> inverse = of_lens.inv(cv::DECOMP_SVD);
    return all - with_lens * inverse * with_lens.t();
}

double variance(const Row& sensitivity, const scale::PlaneCovariance& covariance) {
    return std::max(0.0, (sensitivity * covariance * sensitivity.t())(0, 0));
}

std::vector<Row> sensitivities(const SizeFunction& sizes, const scale::Plane& plane, const Heights& heights,
                               std::size_t count) {
    std::vector<Row> rows(count, Row::zeros());
    const scale::PlaneVector at = plane.parameters();
    for (int p = 0; p < bloom; ++p) {
        // A fraction of the parameter's own uncertainty: small enough to be straight, large enough for
        // digits.
        const double step = std::max(1e-9, 0.3 * std::sqrt(std::max(0.0, plane.covariance(p, p))));
        scale::PlaneVector up = at;
        scale::PlaneVector down = at;
        up[p] += step;
        down[p] -= step;
        const auto high = sizes(plane.with_parameters(up), heights);
        const auto low = sizes(plane.with_parameters(down), heights);
        for (std::size_t i = 0; i < count && i < high.size() && i < low.size(); ++i) {
            rows[i](0, p) = (high[i] - low[i]) / (2 * step);
        }
    }
    return rows;
}

}  // namespace

std::vector<PlaneShares> plane_shares(const SizeFunction& sizes, const scale::Plane& plane,
                                      const Heights& heights, double u_height_mm) {
    const std::size_t count = sizes(plane, heights).size();
    const auto rows = sensitivities(sizes, plane, heights, count);
    const scale::PlaneCovariance conditional = given_lens(plane.covariance);
    constexpr double step_mm = 0.5;
    Heights higher = heights;
    higher.face += step_mm;
    Heights lower = heights;
    lower.face -= step_mm;
    const auto high = sizes(plane, higher);
    const auto low = sizes(plane, lower);
    std::vector<PlaneShares> shares(count);
    for (std::size_t i = 0; i < count; ++i) {
        const double all = variance(rows[i], plane.covariance);
        const double corners = std::min(all, variance(rows[i], conditional));
        shares[i].corners = std::sqrt(corners);
        shares[i].lens = std::sqrt(all - corners);
        shares[i].height = std::abs(high[i] - low[i]) / (2 * step_mm) * u_height_mm;
    }
    return shares;
}

}  // namespace stripbook::measure
