#include "fiducial/read_at.h"

#include <algorithm>

#include "fiducial/modules.h"

namespace stripbook::fiducial {

std::optional<Fiducial> read_fiducial_at(const cv::Mat& grey, const std::array<PointPx, 4>& corners,
                                         double least_likeness) {
    constexpr double least_contrast = 8;
    const cv::Rect2d inside(0, 0, grey.cols - 1, grey.rows - 1);
    if (!std::all_of(corners.begin(), corners.end(), [&](const PointPx& p) { return inside.contains(p); })) {
        return std::nullopt;
    }
    const SeenModules seen = seen_modules(grey, corners, Family::tag36h11);
    if (seen.contrast < least_contrast) {
        return std::nullopt;
    }
    auto likeness = likeness_of_all(seen);
    const auto best = std::max_element(likeness.begin(), likeness.end());
    Fiducial f;
    f.likeness = *best;
    f.identity = static_cast<int>(best - likeness.begin());
    *best = -1;
    const double second = *std::max_element(likeness.begin(), likeness.end());
    if (f.likeness < least_likeness || !stands_out(f.likeness, second)) {
        return std::nullopt;
    }
    f.corners = corners;
    f.centre = (corners[0] + corners[1] + corners[2] + corners[3]) / 4;
    return f;
}

}  // namespace stripbook::fiducial
