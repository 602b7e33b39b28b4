// Measuring the one part that lies on or beside a scale marker.
#pragma once

#include <opencv2/core.hpp>
#include <optional>
#include <vector>

#include "measure/dimension.h"
#include "scale/plane.h"

namespace stripbook::measure {

struct PartOptions {
    /// Of the measured face above the bench. Without it every dimension carries the whole scale error of a
    /// height that nobody told.
    std::optional<double> face_height_mm;
    double u_face_height_mm = 0.1;  ///< a rule held beside the part (common practice, no source)
    /// Whatever lies there and is not the part: tags, cards. Outlines in pixels.
    std::vector<std::vector<cv::Point2d>> not_part_px;
};

/// `picture`: CV_8UC3 (BGR) or CV_8UC1, full size, pixels of the stored picture; the plane is of the same
/// photo. The outline is the widest one, a hole the narrowest. Edges on the side towards the camera are taken
/// from the bench plane, those on the far side from the face. Never throws for what a picture shows: a
/// refusal has its reason.
PartMeasurement measure_part(const cv::Mat& picture, const scale::Plane& plane, const PartOptions& options);

}  // namespace stripbook::measure
