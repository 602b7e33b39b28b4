#include "measure/plane_uncertainty.h"

#include <algorithm>
#include <cmath>

#include "measure/propagation.h"

namespace stripbook::measure {

namespace {

using scale::plane_parameters;

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

double variance(const cv::Mat1d& sensitivity, const cv::Mat1d& covariance) {
    return std::max(0.0, propagated(sensitivity, covariance)(0, 0));
}

// Blooming is no parameter of the sizes: its column stays nothing.
cv::Mat1d rows_of(const SizeFunction& sizes, const scale::Plane& plane, const Heights& heights) {
    const scale::PlaneVector at = plane.parameters();
    const Values values = [&](const std::vector<double>& inputs) {
        scale::PlaneVector moved = at;
        std::copy(inputs.begin(), inputs.end(), moved.val);
        return sizes(plane.with_parameters(moved), heights);
    };
    const cv::Mat1d covariance(plane.covariance);
    cv::Mat1d rows =
        sensitivities(values, {at.val, at.val + bloom}, covariance(cv::Rect(0, 0, bloom, bloom)));
    cv::copyMakeBorder(rows, rows, 0, 0, 0, plane_parameters - bloom, cv::BORDER_CONSTANT, 0);
    return rows;
}

}  // namespace

std::vector<PlaneShares> plane_shares(const SizeFunction& sizes, const scale::Plane& plane,
                                      const Heights& heights, double u_height_mm) {
    const cv::Mat1d rows = rows_of(sizes, plane, heights);
    const auto count = static_cast<std::size_t>(rows.rows);
    const cv::Mat1d whole(plane.covariance);
    const cv::Mat1d conditional(given_lens(plane.covariance));
    constexpr double step_mm = 0.5;
    Heights higher = heights;
    higher.face += step_mm;
    Heights lower = heights;
    lower.face -= step_mm;
    const auto high = sizes(plane, higher);
    const auto low = sizes(plane, lower);
    std::vector<PlaneShares> shares(count);
    for (std::size_t i = 0; i < count; ++i) {
        const cv::Mat1d row = rows.row(static_cast<int>(i));
        const double all = variance(row, whole);
        const double corners = std::min(all, variance(row, conditional));
        shares[i].corners = std::sqrt(corners);
        shares[i].lens = std::sqrt(all - corners);
        shares[i].height = std::abs(high[i] - low[i]) / (2 * step_mm) * u_height_mm;
    }
    return shares;
}

}  // namespace stripbook::measure
