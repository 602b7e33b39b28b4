// Grey levels across an outline, as means over its neighbours: noise and a shadow's grain go, a straight edge
// stays.
#pragma once

#include <cmath>
#include <cstddef>
#include <opencv2/core.hpp>
#include <vector>

#include "measure/outline_edge.h"

namespace stripbook::measure {

/// Samples on a line across the outline: the first so far outward of the point, negative: inward.
struct SamplesAcross {
    double from_px = 0;
    double step_px = 1;
    int count = 0;
};

/// The outline without what noise makes of it; `half` neighbours on each side of a point have a say.
std::vector<EdgePoint> steadied(const std::vector<EdgePoint>& points, int half);

/// For each point, from inside to outside: the mean over the point and `half` neighbours on each side, of
/// which there must be more.
std::vector<std::vector<double>> greys_across(const cv::Mat3b& picture, const std::vector<EdgePoint>& steady,
                                              const SamplesAcross& samples, int half);

/// The grey levels across one point by their place: px outward of it, within the samples.
class GreyLine {
  public:
    /// Keeps `greys` by reference; one of those of greys_across with these samples.
    GreyLine(const std::vector<double>& greys, const SamplesAcross& samples)
        : greys_(greys), samples_(samples) {}

    [[nodiscard]] double at(double px) const { return greys_[static_cast<std::size_t>(sample(px))]; }

    struct Stretch {
        double mean = 0;
        double least = 0;
        double most = 0;
    };
    /// Of the samples from one place to another further out, both among them.
    [[nodiscard]] Stretch between(double from_px, double to_px) const;

  private:
    [[nodiscard]] std::ptrdiff_t sample(double px) const {
        return std::lround((px - samples_.from_px) / samples_.step_px);
    }

    const std::vector<double>& greys_;
    SamplesAcross samples_;
};

}  // namespace stripbook::measure
