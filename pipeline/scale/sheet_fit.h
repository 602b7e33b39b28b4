// Least squares of sheet views against one lens: the engine of both estimate_lens and find_plane.
#pragma once

#include <array>
#include <opencv2/core.hpp>
#include <optional>
#include <vector>

#include "scale/lens.h"

namespace stripbook::scale {

/// Pose of one view (rotation vector, translation mm; camera from plane) and its blooming.
struct ViewState {
    std::array<double, 6> pose{};
    double bloom_px = 0;
    double rms_px = 0;  ///< per coordinate
};

struct SheetFit {
    std::vector<ViewState> views;
    LensProfile lens;            ///< its covariance is the one after the fit
    double corner_sigma_px = 0;  ///< that the covariances rest on
    /// Of pose, lens and blooming of the only view, in the order of plane.h; empty with several views.
    cv::Mat1d joint_covariance;
};

/// The smallest corner noise believed, px: what refined corners of clean fiducials keep.
inline constexpr double least_corner_sigma_px = 0.05;

/// Nothing when a view has fewer than four points, no start can be found, or the solver fails.
std::optional<SheetFit> fit_sheets(const std::vector<SheetView>& views, const LensProfile& prior);

}  // namespace stripbook::scale
