// Whether a hue is more likely the part's or the ground's. Light and shade do not count: neither a shadow nor
// a dark wall is told by how dark it is.
#pragma once

#include <opencv2/core.hpp>

namespace stripbook::measure {

class HueOdds {
  public:
    HueOdds() = default;  ///< knows nothing: 0 for every colour
    /// `ground` and `part`: where in `log_colours` (log_colour.h) surely ground and surely part lie.
    HueOdds(const cv::Mat3f& log_colours, const cv::Mat1b& ground, const cv::Mat1b& part);

    /// The logarithm of how many times likelier the hue is on the part than on the ground, at most 3 either
    /// way; near 0 for colours too dark to have a hue.
    [[nodiscard]] float of(const cv::Vec3f& log_colour) const;

    /// How well hue tells the two apart at all, 0 to 1.
    [[nodiscard]] double sure() const { return sure_; }

  private:
    cv::Mat1f odds_;
    double sure_ = 0;
};

}  // namespace stripbook::measure
