// Random places for a flat thing before a camera.
#pragma once

#include <opencv2/core.hpp>

#include "sample_maker/camera.h"
#include "sample_maker/dice.h"

namespace stripbook::sample_maker {

/// What the photographer was after.
struct PoseWish {
    double px_per_mm = 2;  ///< square root of the face's area in pixels over its area in mm^2
    double max_tilt_deg =
        25;  ///< the plane's normal against the camera's axis, 0 to 70; the tilt's direction is any
    double margin_px = 3;  ///< at least so far from the picture's edge
};

/// Any turn, a tilt up to the wish, wholly inside the picture. Throws WrongUse when the face does not fit the
/// picture.
Pose random_pose(const Camera& camera, cv::Size2d face_mm, const PoseWish& wish, Dice& dice);

/// A chosen turn (clockwise as seen), tilt, tilt direction, and the pixel the face's middle falls on.
struct Stance {
    double turn_deg = 0;
    double tilt_deg = 0;
    double tilt_direction_deg = 0;  ///< the side that goes away: 0 right, 90 bottom
    cv::Point2d middle_px;
};

/// The pose of that stance with exactly `px_per_mm` (as in PoseWish). Throws WrongUse when there is none.
Pose pose_of(const Camera& camera, cv::Size2d face_mm, const Stance& stance, double px_per_mm);

}  // namespace stripbook::sample_maker
