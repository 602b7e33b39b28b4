// The part's face seen from straight above: the photo taken onto the face's plane.
#pragma once

#include <opencv2/core.hpp>
#include <optional>
#include <vector>

#include "scale/plane.h"

namespace stripbook::measure {

/// Pixel (i, j) of `picture` shows the point origin_mm + (i, j) / px_per_mm of the plane at `height_mm`.
struct FaceView {
    cv::Mat3b picture;
    cv::Point2d origin_mm;
    double px_per_mm = 1;
    double height_mm = 0;
    [[nodiscard]] cv::Point2d mm_from_view(cv::Point2d px) const { return origin_mm + px / px_per_mm; }
    [[nodiscard]] cv::Point2d view_from_mm(cv::Point2d mm) const { return (mm - origin_mm) * px_per_mm; }
};

/// On the long side, for a view of a whole part.
inline constexpr int whole_part_px = 1600;

/// What lies within `around_mm`, at about the photo's own resolution, at most `most_px` on the long side.
std::optional<FaceView> face_view(const cv::Mat3b& picture, const scale::Plane& plane,
                                  const std::vector<cv::Point2d>& around_mm, double height_mm, int most_px);

}  // namespace stripbook::measure
