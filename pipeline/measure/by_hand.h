// Measuring between points that a person picked.
#pragma once

#include <opencv2/core.hpp>
#include <optional>
#include <string>
#include <vector>

#include "measure/dimension.h"
#include "scale/plane.h"

namespace stripbook::measure {

struct ByHandOptions {
    std::optional<double> face_height_mm;
    double u_face_height_mm = 0.1;
    bool snap = true;           ///< to the nearest edge
    double snap_reach_px = 12;  ///< how far an edge may lie from the point picked
};

struct ByHand {
    std::optional<Dimension> dimension;
    std::string reason;                  ///< when there is none
    std::vector<cv::Point2d> points_px;  ///< used, after snapping
};

/// Points in pixels of the stored picture (undo the EXIF turn first: upright.h).
ByHand measure_between(const cv::Mat& grey, const scale::Plane& plane, cv::Point2d a, cv::Point2d b,
                       const ByHandOptions& options);

/// Three points or more; the geometric fit of Gander, Golub and Strebel (BIT 34, 1994).
ByHand measure_circle(const cv::Mat& grey, const scale::Plane& plane, const std::vector<cv::Point2d>& points,
                      const ByHandOptions& options);

}  // namespace stripbook::measure
