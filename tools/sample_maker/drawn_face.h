// A face drawn at the fineness one picture needs, and the mean of it over one camera pixel.
#pragma once

#include <opencv2/core.hpp>

#include "sample_maker/face.h"

namespace stripbook::sample_maker {

/// Along each side of a camera pixel.
inline constexpr int samples_per_px = 4;

/// The four corners of a camera pixel on the face, millimetres; NaN where the pixel does not see the face's
/// plane.
struct PixelOnFace {
    cv::Vec2d upper_left, upper_right, lower_right, lower_left;
    [[nodiscard]] cv::Point2d middle() const {
        return (upper_left + upper_right + lower_right + lower_left) / 4;
    }
};

struct FaceSample {
    double share = 0;  ///< of the pixel that the face fills
    double white = 0;  ///< paper in it, 0 to share
};

class DrawnFace {
  public:
    DrawnFace(const Face& face, double px_per_mm);

    /// Mean of samples_per_px^2 samples, each a face pixel wide.
    [[nodiscard]] FaceSample mean_over(const PixelOnFace& pixel) const;

  private:
    // Whether everything near a pixel is one grey level: then one sample tells all of them. The face is
    // divided into cells of `cell_px` face pixels; a cell is plain when it and half a cell around it are of
    // one level.
    static constexpr int cell_px = 16;
    void mark_plain_cells();
    [[nodiscard]] bool plain_around(const PixelOnFace& pixel) const;
    void add_sample(double x_px, double y_px, FaceSample& sum) const;

    double px_per_mm_;
    cv::Size2d size_px_;
    cv::Mat1b picture_;
    cv::Mat1b plain_cells_;
};

/// Bilinear value of a map that stretches over a whole face, at a point of the face.
double value_at(const cv::Mat1f& map, cv::Point2d face_mm, cv::Size2d size_mm);

}  // namespace stripbook::sample_maker
