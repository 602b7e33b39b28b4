// The linear light of a view, which blurring and interpolation mix as the lens does.
#pragma once

#include <opencv2/core.hpp>

#include "measure/face_view.h"

namespace stripbook::measure {

class ViewLight {
  public:
    explicit ViewLight(const FaceView& view);

    /// As linear_light, 0 to 1, interpolated between pixels; beyond the view's edge the edge's.
    [[nodiscard]] double at(cv::Point2d mm) const;
    [[nodiscard]] double px_per_mm() const { return px_per_mm_; }

  private:
    cv::Mat1f light_;
    cv::Point2d origin_mm_;
    double px_per_mm_;
};

}  // namespace stripbook::measure
