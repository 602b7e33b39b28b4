// What a camera body does with light at one focal length: a pinhole and a lens that bends (radial terms k1
// and k2 of OpenCV's model: a ray at radius r leaves at r (1 + k1 r^2 + k2 r^4)).
//
// Frames. Pixels: fiducial/find.h, the stored picture before any EXIF turn. Ray: x and y of a camera point at
// z = 1, x right, y down, z forward.
#pragma once

#include <opencv2/core.hpp>
#include <optional>
#include <string>
#include <vector>

namespace stripbook::scale {

/// Order of the lens parameters in every covariance: focal length px, centre x px, centre y px, k1, k2.
inline constexpr int lens_parameters = 5;
using LensCovariance = cv::Matx<double, lens_parameters, lens_parameters>;

struct LensProfile {
    cv::Size size_px;  ///< of the stored picture it belongs to
    double focal_px = 0;
    cv::Point2d centre_px;
    double k1 = 0;
    double k2 = 0;
    LensCovariance covariance = LensCovariance::zeros();
    int photos = 0;              ///< it rests on; 0: from the EXIF focal length or a guess
    double residual_rms_px = 0;  ///< of the corners it rests on, per coordinate
};

/// The pixel a ray falls on.
cv::Point2d pixel_from_ray(const LensProfile& lens, cv::Point2d ray);

/// The ray that falls on a pixel (Newton's method); nothing where the lens model folds over.
std::optional<cv::Point2d> ray_from_pixel(const LensProfile& lens, cv::Point2d pixel);

/// Before any marker was seen: the focal length from EXIF (35 mm equivalent by the diagonal, CIPA DCG-001),
/// no distortion, and standard uncertainties wide enough for cameras of the trade (common practice, no
/// source): 3 % of the focal length (whole millimetres and focusing close), 1 % of the width for the centre,
/// 0.08 for k1, 0.05 for k2. Without a focal length: 35 mm and 40 %.
LensProfile lens_from_exif(std::optional<double> focal_length_35_mm, cv::Size size_px);

/// Corners of one sheet in one photo.
struct SheetView {
    std::vector<cv::Point2d> sheet_mm;  ///< where they are printed, correction applied
    std::vector<cv::Point2d> photo_px;
    /// Direction in which each corner would move if its black square grew, sheet frame: (-1, -1) for a top
    /// left corner. Empty: the points do not bloom.
    std::vector<cv::Point2d> outward;
};

struct LensEstimate {
    LensProfile lens;
    std::string fault;  ///< one line when the views do not make a profile; `lens` is then the start
    std::vector<double> view_rms_px;  ///< per view, per coordinate
};

/// Bundle adjustment (least squares over all views: one pose a photo, one lens, blooming a photo) from
/// `start`, whose covariance is the prior: what the photos do not carry stays as it was. `views` are photos
/// of one camera body and focal length, all of start.size_px. Wants two or more views of four or more points
/// each; a view that fits far worse than the others is left out.
LensEstimate estimate_lens(const std::vector<SheetView>& views, const LensProfile& start);

}  // namespace stripbook::scale
