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

    /// How well hue tells the two apart at all, 0 to 1: bright steel from grey paint too, where the light has
    /// one colour.
    [[nodiscard]] double sure() const { return sure_; }

    /// How well it still does where a shadow's light is of another colour, as brass from grey paint; never
    /// more than sure().
    [[nodiscard]] double plain() const { return plain_; }

  private:
    cv::Mat1f odds_;
    double sure_ = 0;
    double plain_ = 0;
};

}  // namespace stripbook::measure
