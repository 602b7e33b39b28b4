// A clock's offset and drift from the moments when both it and the true time are known.
#pragma once

#include <vector>

namespace stripbook::link {

struct ClockAnchor {
    double at_s = 0;     ///< by the clock
    double ahead_s = 0;  ///< how far the clock was ahead of true time
    double u_s = 0;      ///< standard uncertainty of that
};

/// How far a clock is ahead at a moment, with standard uncertainty.
struct Ahead {
    double ahead_s = 0;
    double u_s = 0;
};

/// ahead = offset + drift * (at - reference): least squares over the anchors, with what quartz clocks do as a
/// prior for the drift, 0 +- 2 s a day (a watch crystal of 20 ppm; common practice, no source). With one
/// anchor the drift stays there, and the uncertainty grows with the distance from it.
class ClockFit {
  public:
    /// A clock that is `ahead` at all times.
    explicit ClockFit(Ahead always) : ahead_s_(always.ahead_s), var_ahead_(always.u_s * always.u_s) {}
    /// Of at least one anchor with u_s above 0.
    explicit ClockFit(const std::vector<ClockAnchor>& anchors);

    [[nodiscard]] Ahead at(double at_s) const;
    [[nodiscard]] double drift_s_per_day() const;

  private:
    double reference_s_ = 0;
    double ahead_s_ = 0;
    double drift_ = 0;  // seconds a second
    double var_ahead_ = 0;
    double var_drift_ = 0;
};

/// How much two honest anchors of one clock may differ: three times their uncertainty, a second, and 10 s a
/// day of drift. More than that, and the clock was set between them.
bool one_clock(const ClockAnchor& a, const ClockAnchor& b);

}  // namespace stripbook::link
