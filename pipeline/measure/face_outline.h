// The edge seen in the picture as the outline of the part, in millimetres.
//
// A tall part seen at an angle shows its wall on the side towards the camera: the outermost edge there is the
// wall's foot, on the bench, and on the far side it is the rim of the face. Each point is taken to the height
// of its own plane, so that the wall does not add to the length.
#pragma once

#include <opencv2/core.hpp>
#include <vector>

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

struct PlanPoint {
    cv::Point2d mm;  ///< of the wall, seen from straight above
    bool on_face = true;
};

/// From the closed outline seen, at the height of the face, to the part's own: what lies within both readings
/// of it, all of it rim and all of it foot.
///
/// On every line from the place below the camera the picture shows a part that reaches from a to b as from
/// a's foot to b's rim. Read as rim the far end is right, read as foot the near end, and what the wrong
/// readings add lies outside the other one; so do the upright corners between rim and foot, which belong to
/// neither.
std::vector<PlanPoint> within_both_readings(const std::vector<cv::Point2d>& at_face_mm,
                                            const scale::Plane& plane, const Heights& heights);

std::vector<cv::Point2d> outline_mm(const std::vector<OutlinePoint>& points, const scale::Plane& plane,
                                    const Heights& heights);

/// Noise taken off a closed outline: each point from a parabola through its neighbours within `window_mm`, on
/// the side or sides where they fit best, so that corners stay sharp (choosing among one-sided windows as
/// essentially non-oscillatory schemes do).
std::vector<cv::Point2d> without_noise(const std::vector<cv::Point2d>& closed_mm, double window_mm);

}  // namespace stripbook::measure
