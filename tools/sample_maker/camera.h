// The camera that made photographs are taken with: a pinhole and a lens that bends (OpenCV's model, k1 k2 p1
// p2).
//
// Frames. Plane: millimetres on the printed face, x right, y down, z away from who reads it. Camera:
// millimetres, x right, y down, z forward. Ray: x and y of a camera point at z = 1. Pixels: whole numbers are
// pixel centres, x right, y down, in the stored picture before any EXIF turn.
#pragma once

#include <array>
#include <opencv2/core.hpp>
#include <optional>
#include <vector>

namespace stripbook::sample_maker {

struct Camera {
    cv::Size size_px;
    cv::Matx33d matrix = cv::Matx33d::eye();       ///< pixels from rays
    std::array<double, 4> distortion{0, 0, 0, 0};  ///< k1 k2 p1 p2
};

/// A camera without distortion, looking through the middle of its picture; focal length 1.2 picture widths.
Camera plain_camera(cv::Size size_px);

/// Where a plane lies before the camera: camera point = rotation * plane point + translation.
struct Pose {
    cv::Matx33d rotation = cv::Matx33d::eye();
    cv::Vec3d translation_mm{0, 0, 1000};
};

/// The pose of a second plane in the same plane: its origin at `origin_mm` of the first, turned clockwise by
/// `turn`.
Pose laid_beside(const Pose& camera_from_plane, cv::Point2d origin_mm, double turn_rad);

/// A ray bent by the lens, and the pixel it falls on. Source: OpenCV documentation, "Camera Calibration and
/// 3D Reconstruction", radial and tangential model.
cv::Point2d pixel_from_ray(const Camera& camera, cv::Point2d ray);

/// The ray that falls on a pixel, by Newton's method to 1e-12; nothing where the lens model folds over and no
/// ray does.
std::optional<cv::Point2d> ray_from_pixel(const Camera& camera, cv::Point2d pixel);

/// A plane point's pixel; nothing when it lies behind the camera or so far aside that the lens model folds
/// over.
std::optional<cv::Point2d> pixel_from_plane(const Camera& camera, const Pose& camera_from_plane,
                                            cv::Point2d plane_mm);

/// Takes rays back onto one plane.
class PlaneFromRay {
  public:
    explicit PlaneFromRay(const Pose& camera_from_plane);
    /// Nothing when the ray misses the plane or meets it behind the camera.
    [[nodiscard]] std::optional<cv::Point2d> operator()(cv::Point2d ray) const;

  private:
    cv::Matx33d plane_from_ray_;
};

}  // namespace stripbook::sample_maker
