// How far away a camera still sees a tag large enough.
#pragma once

#include <string>
#include <vector>

namespace stripbook::print {

struct CameraReach {
    std::string camera;
    int width_px = 0;
    int height_px = 0;
    double focal_length_35_mm = 0;
    /// Distance in metres at which a square-on picture has `px_per_mm` in its middle:
    ///     distance = f35 * diagonal_px / 43.27 mm / px_per_mm
    /// since the 35 mm equivalent focal length is told by the diagonal of 24 x 36 mm, 43.27 mm (CIPA
    /// DCG-001).
    [[nodiscard]] double metres_at(double px_per_mm) const;
};

/// Common cameras: pixel counts and lenses as makers sell them (common practice, no source).
const std::vector<CameraReach>& common_cameras();

}  // namespace stripbook::print
