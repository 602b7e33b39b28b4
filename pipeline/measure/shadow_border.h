// Where an outline runs along the border of the part's shadow, how far that falls being known.
#pragma once

#include <vector>

#include "measure/cast_shadow.h"
#include "measure/face_outline.h"
#include "measure/face_view.h"
#include "scale/plane.h"

namespace stripbook::measure {

struct ShadowTakenOff {
    std::vector<OutlinePoint> outline;  ///< as given, or with points moved back to the part's foot
    double most_mm = 0;                 ///< how far the farthest was moved; 0: none
};

/// How far around the outline a view of the bench must reach, mm, for a part so high.
double shadow_surroundings_mm(double height_mm);

/// On the side away from the light the lit ground begins as far beyond the part's foot as the shadow falls.
/// Where the part is as dark as its shadow, so that the edge between them is not seen, and the outline lies
/// further out than that, the foot is there.
ShadowTakenOff shadow_taken_off(const std::vector<OutlinePoint>& outline, const FaceView& bench,
                                const scale::Plane& plane, const Heights& heights, const CastShadow& shadow);

}  // namespace stripbook::measure
