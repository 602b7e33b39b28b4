// A picture at full, half, quarter... size: a square of any size is looked for where it is ten to thirty
// pixels across, so that noise and fine texture are averaged away and the work stays in proportion to the
// picture.
#pragma once

#include <opencv2/core.hpp>
#include <vector>

namespace stripbook::fiducial {

class Pyramid {
  public:
    /// Of a grey picture (CV_8UC1), whose pixels are shared, not copied. Each level halves the one before by
    /// area, until a level's shorter side would be under 24 pixels.
    explicit Pyramid(const cv::Mat& grey);
    [[nodiscard]] int levels() const { return static_cast<int>(levels_.size()); }
    [[nodiscard]] const cv::Mat& at(int level) const { return levels_[static_cast<std::size_t>(level)]; }
    /// Whole numbers are pixel centres in every level.
    static cv::Point2d to_level(const cv::Point2d& picture_px, int level);
    static cv::Point2d from_level(const cv::Point2d& level_px, int level);
    /// The level at which something of `side_px` in the picture is about `wanted_px` across, rounded to the
    /// finer one.
    [[nodiscard]] int level_for(double side_px, double wanted_px) const;

  private:
    std::vector<cv::Mat> levels_;
};

}  // namespace stripbook::fiducial
