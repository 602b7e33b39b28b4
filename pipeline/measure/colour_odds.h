// Whether a colour is more likely the part's or the ground's, shaded or not.
#pragma once

#include <opencv2/core.hpp>
#include <vector>

namespace stripbook::measure {

/// How often colours occur: counts in cells of log_colour's three numbers.
class ColourCounts {
  public:
    ColourCounts();
    /// Shares that sum to one, of the pixels of `log_colours` where `where` is set (at most a sample of
    /// them).
    ColourCounts(const cv::Mat3f& log_colours, const cv::Mat1b& where);

    /// Spread by bells, in natural logarithms: what noise and a small sample leave out.
    void blur(double brightness, double ratios);

    /// The same colours in every brightness from `darker` (negative) to `brighter` of their own, evenly.
    [[nodiscard]] ColourCounts in_light(double darker, double brighter) const;

    [[nodiscard]] std::size_t cells() const { return share_.size(); }
    [[nodiscard]] float share(std::size_t cell) const { return share_[cell]; }
    [[nodiscard]] static std::size_t cell_of(const cv::Vec3f& log_colour);

  private:
    std::vector<float> share_;
};

/// The logarithm of how many times likelier a colour is on the part than on the ground.
class ColourOdds {
  public:
    ColourOdds() = default;  ///< knows nothing: 0 for every colour
    explicit ColourOdds(std::vector<float> of_cells) : odds_(std::move(of_cells)) {}

    /// Natural logarithm, at most 3 either way.
    [[nodiscard]] float of(const cv::Vec3f& log_colour) const {
        return odds_.empty() ? 0 : odds_[ColourCounts::cell_of(log_colour)];
    }

  private:
    std::vector<float> odds_;
};

/// What the ground looks like.
///
/// The ground is its own colours, and these darkened: in shadow. The part is its own colours, and these
/// darker or brighter: walls and broken edges. Both have a share of any colour at all, so that a colour never
/// seen says nothing.
class GroundColours {
  public:
    explicit GroundColours(const ColourCounts& ground);
    [[nodiscard]] ColourOdds odds_of(const ColourCounts& part) const;

  private:
    std::vector<float> share_;
};

}  // namespace stripbook::measure
