#include "link/clocks_fit.h"

#include <cmath>

namespace stripbook::link {

namespace {

constexpr double day_s = 86400;
constexpr double drift_prior = 2 / day_s;

}  // namespace

ClockFit::ClockFit(const std::vector<ClockAnchor>& anchors) {
    double weights = 0;
    for (const auto& anchor : anchors) {
        const double weight = 1 / (anchor.u_s * anchor.u_s);
        weights += weight;
        reference_s_ += weight * (anchor.at_s - anchors.front().at_s);
        ahead_s_ += weight * anchor.ahead_s;
    }
    reference_s_ = anchors.front().at_s + reference_s_ / weights;
    ahead_s_ /= weights;
    // About the weighted mean the normal equations fall apart into two.
    double xx = 1 / (drift_prior * drift_prior);
    double xy = 0;
    for (const auto& anchor : anchors) {
        const double weight = 1 / (anchor.u_s * anchor.u_s);
        const double x = anchor.at_s - reference_s_;
        xx += weight * x * x;
        xy += weight * x * (anchor.ahead_s - ahead_s_);
    }
    drift_ = xy / xx;
    var_ahead_ = 1 / weights;
    var_drift_ = 1 / xx;
}

Ahead ClockFit::at(double at_s) const {
    const double x = at_s - reference_s_;
    return {ahead_s_ + drift_ * x, std::sqrt(var_ahead_ + x * x * var_drift_)};
}

double ClockFit::drift_s_per_day() const {
    return drift_ * day_s;
}

bool one_clock(const ClockAnchor& a, const ClockAnchor& b) {
    constexpr double most_drift = 10 / day_s;
    const double allowed_s = 3 * std::hypot(a.u_s, b.u_s) + 1 + most_drift * std::abs(a.at_s - b.at_s);
    return std::abs(a.ahead_s - b.ahead_s) <= allowed_s;
}

}  // namespace stripbook::link
