// All sizes of a part as one function of plane, heights and what was seen, so that every uncertainty is the
// same function asked again with its input moved.
#pragma once

#include <opencv2/core.hpp>
#include <vector>

#include "measure/circle_fit.h"
#include "measure/extent.h"
#include "measure/face_outline.h"
#include "scale/plane.h"

namespace stripbook::measure {

/// What was seen, in pixels.
struct PartSeen {
    std::vector<OutlinePoint> outline;
    std::vector<std::vector<cv::Point2d>> holes;  ///< points around each narrow rim
    std::vector<std::vector<std::size_t>> bolt_circles;
    std::vector<std::pair<std::size_t, std::size_t>> distances;
};

struct HoleSize {
    cv::Point2d centre_mm;
    double diameter_mm = 0;
};

struct Sizes {
    Extent extent;
    std::vector<HoleSize> holes;
    std::vector<double> distances_mm;
    std::vector<Circle> bolt_circles;
    /// All of them in one row: length, width, largest extent, area, hole diameters, centre
    /// distances, bolt circle diameters.
    [[nodiscard]] std::vector<double> row() const;
};

Sizes sizes_of(const PartSeen& seen, const scale::Plane& plane, const Heights& heights);

}  // namespace stripbook::measure
