// The outline of a face in the picture.
#pragma once

#include <array>
#include <opencv2/core.hpp>
#include <optional>

#include "sample_maker/camera.h"

namespace stripbook::sample_maker {

/// Top left, top right, bottom right, bottom left of the printed face, pixels.
using Quad = std::array<cv::Point2d, 4>;

/// Nothing when a corner lies behind the camera or beyond the lens model's fold.
std::optional<Quad> face_corners_px(const Camera& camera, const Pose& camera_from_plane, cv::Size2d face_mm);

/// Area by the shoelace formula, pixels squared; negative when the face is seen from behind.
double area_px(const Quad& corners);

/// Square root of area in pixels over area in square millimetres.
double px_per_mm(const Quad& corners, cv::Size2d face_mm);

/// All corners within the picture's pixels (-0.5 to size - 0.5), `margin_px` further in.
bool wholly_inside(const Quad& corners, cv::Size picture, double margin_px);

/// The upright rectangle around the corners.
cv::Rect2d box_around(const Quad& corners);

}  // namespace stripbook::sample_maker
