// The plane a scale marker defines, and how well it is known.
//
// Plane frame: millimetres on the printed sheet, x right, y down, z away from the reader, so what lies h
// above the sheet has z = -h. Camera frame and pixels: lens.h.
#pragma once

#include <opencv2/core.hpp>
#include <optional>
#include <string>
#include <vector>

#include "fiducial/find.h"
#include "scale/lens.h"

namespace stripbook::scale {

/// How a printed sheet differs from its drawing, measured with a caliper on printed lines.
struct SheetCorrection {
    double across = 1;      ///< printed over drawn length along x
    double along = 1;       ///< the same along y
    double u_relative = 0;  ///< standard uncertainty of both, as a share
};

/// A sheet nobody measured: printers stretch by up to some percent.
SheetCorrection unmeasured_sheet();

/// Parameters of a plane in the order of its covariance: rotation vector (3), translation mm (3), the lens's
/// (lens_parameters), blooming px.
inline constexpr int plane_parameters = 6 + lens_parameters + 1;
using PlaneCovariance = cv::Matx<double, plane_parameters, plane_parameters>;
using PlaneVector = cv::Vec<double, plane_parameters>;

struct Plane {
    std::string marker;        ///< kind of the sheet: pocket, bench or mat
    int fiducials = 0;         ///< it rests on
    cv::Size2d sheet_mm;       ///< as printed
    LensProfile lens;          ///< the profile, made better by this photo's own corners
    cv::Vec3d rotation;        ///< rotation vector, camera from plane
    cv::Vec3d translation_mm;  ///< camera from plane
    /// How far every edge of a black square lies further into the black than printed, px; positive: dark
    /// comes out too small.
    double bloom_px = 0;
    PlaneCovariance covariance = PlaneCovariance::zeros();
    double u_sheet_relative = 0;  ///< of the printed sheet's own scale
    double residual_rms_px = 0;   ///< of the corners, per coordinate
    double tilt_deg = 0;          ///< the plane's normal against the line of sight to the sheet's middle

    /// As a vector in the order of `covariance`, and the same plane with other parameters.
    [[nodiscard]] PlaneVector parameters() const;
    [[nodiscard]] Plane with_parameters(const PlaneVector& parameters) const;
};

/// Where the camera stands: x and y of its foot on the plane and its height above it, plane frame, mm.
struct Standpoint {
    cv::Point2d foot_mm;
    double height_mm = 0;
};
Standpoint standpoint(const Plane& plane);

/// The pixel of a point `height_mm` above the plane.
std::optional<cv::Point2d> pixel_from_plane(const Plane& plane, cv::Point2d plane_mm, double height_mm);

/// The point `height_mm` above the plane that a pixel shows; nothing when the pixel does not see the plane.
std::optional<cv::Point2d> plane_from_pixel(const Plane& plane, cv::Point2d pixel, double height_mm);

enum class PlaneFault { no_marker, too_few_fiducials, twins, too_oblique, bent };

struct PlaneReading {
    std::optional<Plane> plane;
    PlaneFault fault = PlaneFault::no_marker;  ///< when there is no plane
    std::string reason;                        ///< one line in plain words: why, and what to do
};

/// Which corners of which sheet were found, as a view for lens.h; nothing when a photo shows no sheet or more
/// than one, or fewer than two fiducials of it.
struct SheetSeen {
    std::string marker;
    SheetView view;
    std::vector<int> identities;
};
std::optional<SheetSeen> sheet_seen(const std::vector<fiducial::Fiducial>& found,
                                    const SheetCorrection& correction = {});

/// The plane of the one scale marker among the fiducials of a photo (find_fiducials with refine). Least
/// squares over the corners with `lens` as the prior; the covariance is that of the corners' residuals, at
/// least 0.05 px. Refuses (reason, no plane): no marker or several, fewer than two fiducials, a tilt beyond
/// `most_tilt_deg`, residuals that a flat sheet would not leave (half a pixel, or 4 % of a module where that
/// is more).
PlaneReading find_plane(const std::vector<fiducial::Fiducial>& found, const LensProfile& lens,
                        const SheetCorrection& correction = {});

inline constexpr double most_tilt_deg = 45;

}  // namespace stripbook::scale
