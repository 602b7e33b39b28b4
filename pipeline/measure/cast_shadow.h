// How far a part's shadow falls on the ground, as its holes show it.
#pragma once

#include <opencv2/core.hpp>
#include <optional>
#include <vector>

#include "measure/circle_fit.h"
#include "measure/view_light.h"

namespace stripbook::measure {

struct CastShadow {
    cv::Point2d mm;    ///< from a place of the part's foot to where the rim above it casts its shadow
    double shade = 1;  ///< linear light in it over that of the lit ground
    double face = 1;   ///< the same of the face around the holes

    /// Whether the edge between the face and the shadow beside it may not be seen, but that of the lit ground
    /// is.
    [[nodiscard]] bool hides_edge() const;
};

/// The rims of a part's holes above the bench, and from where they are seen.
struct RimsAbove {
    cv::Point2d camera_foot_mm;
    double camera_mm = 0;  ///< over the bench
    double height_mm = 0;  ///< of the rims over the bench, less than the camera's
    /// How many times larger a rim looks than it is, drawn on the bench: about the camera's foot.
    [[nodiscard]] double seen_larger() const { return camera_mm / (camera_mm - height_mm); }
};

/// The longest shadow looked for, of a part so high, mm.
double longest_shadow_mm(double height_mm);

/// From the ground seen through round holes: one lamp casts a hole's rim, which is level, as a circle just as
/// large moved away from the light (a parallel projection onto a parallel plane), and by the same vector for
/// each hole. Lit is the ground within both the hole and the moved circle. Nothing where no such vector tells
/// the bright from the dark in the holes clearly.
///
/// `bench`: of a view of the bench's plane. `holes_mm`: of the bores, plane frame.
std::optional<CastShadow> shadow_in_holes(const ViewLight& bench, const std::vector<Circle>& holes_mm,
                                          const RimsAbove& rims);

/// Linear light of the face around the holes over that of the brighter quarter of the ground seen through
/// them, arguments as above; 1 where no ground is seen.
double face_over_ground(const ViewLight& bench, const std::vector<Circle>& holes_mm, const RimsAbove& rims);

}  // namespace stripbook::measure
