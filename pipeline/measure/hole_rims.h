// What a hole drilled right through looks like from the camera: its bore's rim at the view's height; on the
// side where the wall shows the lower rim in front of the bench; and outside, higher, the rim of the broken
// edge.
#pragma once

#include <opencv2/core.hpp>
#include <optional>

#include "measure/circle_fit.h"
#include "measure/face_view.h"

namespace stripbook::measure {

/// From where a hole is seen.
struct HoleSight {
    cv::Point2d foot_mm;  ///< of the camera, plane frame
    double above_mm = 0;  ///< the camera over the view's plane; 0: not known
    double depth_mm = 0;  ///< of the bench under the view's plane; 0: not known
};

/// A circle of the view's plane (mm) in pixels of the view, and back.
Circle in_view(const Circle& mm, const FaceView& view);
Circle in_mm(const Circle& px, const FaceView& view);

/// How far a point lies inside a circle; negative: outside. Any one unit.
double inside(cv::Point2d point, const Circle& circle);

/// Points and circles here are in pixels of the view. What lies higher or lower than the view's plane appears
/// moved away from the camera's foot or towards it, by similar triangles.
class HoleRims {
  public:
    HoleRims(const FaceView& view, const HoleSight& sight);

    /// Where the edge of the bore seen at `px` lies at the view's height, were the hole `circle`: there, or,
    /// where it is the lower rim, above that.
    [[nodiscard]] cv::Point2d of_bore(cv::Point2d px, const Circle& circle) const;

    /// The bore whose lower rim is seen as this circle; nothing where the depth is not known.
    [[nodiscard]] std::optional<Circle> bore_of_lower_rim(const Circle& seen) const;

    /// Where a point seen at `px` lies when it is so far above the view's height.
    [[nodiscard]] cv::Point2d of_higher(cv::Point2d px, double higher_px) const;

    /// The lower rim of a bore as it is seen; nothing where the depth is not known.
    [[nodiscard]] std::optional<Circle> lower_rim_of_bore(const Circle& bore) const;

  private:
    [[nodiscard]] bool walled(cv::Point2d px, const Circle& circle) const;

    cv::Point2d foot_px_;
    double above_px_;
    double depth_px_;
};

}  // namespace stripbook::measure
