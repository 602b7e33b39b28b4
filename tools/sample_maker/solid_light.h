// How a solid on the ground looks from a camera: what a ray hits, and how much light comes from there.
#pragma once

#include <opencv2/core.hpp>

#include "sample_maker/dice.h"
#include "sample_maker/solid.h"

namespace stripbook::sample_maker {

/// How far from a wall the ground sees less of the sky, in heights of the solid.
inline constexpr double sky_reach = 2.5;

/// One broad lamp and light from all sides.
struct Lamps {
    cv::Vec3d towards{0, 0, 1};   ///< unit vector to the lamp, z up, part frame
    double half_angle_rad = 0.1;  ///< as wide as it looks from the bench: soft shadows
    double lamp = 0.6;            ///< light on a level face
    double ambient = 0.4;         ///< the same from all sides
};

/// Reflecting surface, linear light, blue green red.
struct Surface {
    cv::Vec3f colour{0.3F, 0.3F, 0.3F};
    double shine = 0;  ///< mirror of the lamp on broken edges and walls, share of white
};

/// A line of sight: it comes down from the camera.
struct Sight {
    cv::Point2d top_mm;     ///< where it meets the face's height, part frame
    cv::Point2d ground_mm;  ///< where it meets the ground
};

enum class Met { ground, face, edge, wall };

struct Meeting {
    Met what = Met::ground;
    cv::Point2d at_mm;
    double height_mm = 0;
};

Meeting meeting_of(const Solid& solid, const Sight& sight);

/// Light that comes from there, as a share of what a white face lying level in full light gives; `surface` is
/// the ground's where the ground is met. `dice` spreads the shadow rays over the lamp.
cv::Vec3f light_from(const Solid& solid, const Lamps& lamps, const Surface& surface, const Meeting& meeting,
                     Dice& dice);

}  // namespace stripbook::sample_maker
