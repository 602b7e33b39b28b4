// The edge seen in the picture as the outline of the part, in millimetres.
//
// A tall part seen at an angle shows its wall on the side towards the camera: the outermost edge there is the
// wall's foot, on the bench, and on the far side it is the rim of the face. Each point is taken to the height
// of its own plane, so that the wall does not add to the length.
#pragma once

#include <opencv2/core.hpp>
#include <vector>

#include "measure/outline_edge.h"
#include "scale/plane.h"

namespace stripbook::measure {

/// Heights above the marker's plane, mm.
struct Heights {
    double face = 0;
    double bench = 0;
};

struct OutlinePoint {
    cv::Point2d px;
    bool on_face = true;  ///< else on the bench
};

/// Which plane each edge point lies in. Points that do not meet the plane are left out.
std::vector<OutlinePoint> planes_of(const std::vector<EdgePoint>& edge, const scale::Plane& plane,
                                    const Heights& heights);

std::vector<cv::Point2d> outline_mm(const std::vector<OutlinePoint>& points, const scale::Plane& plane,
                                    const Heights& heights);

/// Noise taken off a closed outline: each point from a parabola through its neighbours within `window_mm`, on
/// the side or sides where they fit best, so that corners stay sharp (choosing among one-sided windows as
/// essentially non-oscillatory schemes do).
std::vector<cv::Point2d> without_noise(const std::vector<cv::Point2d>& closed_mm, double window_mm);

}  // namespace stripbook::measure
