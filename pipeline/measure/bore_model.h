// A shallow hole held against the picture as a whole.
//
// In a sheet of a few millimetres the broken edge, the bore's wall and the shadow at its foot lie within some
// pixels of each other and show as one dark line. Here they are one model: from outside in the face; the
// broken edge, from the face's rim to the bore's; the wall, as far as the camera sees it, or a shadow; the
// bench. The hole's radius, how wide its edge is broken and where the camera stands say where these lie; the
// light of each is free in each direction (the broken edge's not far from the face's); the blur is known
// (edge_blur.h). The radius whose model leaves least of the picture unexplained is the hole's.
#pragma once

#include <opencv2/core.hpp>

#include "measure/circle_fit.h"
#include "measure/face_view.h"
#include "measure/hole_rims.h"

namespace stripbook::measure {

/// Whether holes are no deeper than 6 mm and their depth is known: there the model is right more often than
/// the edges one by one (made shots with known truth). Deeper, walls have light of their own.
bool is_shallow(const HoleSight& sight);

struct BoreLooks {
    double blur_px = 1;         ///< of the view, as colour_at samples it
    double widest_edge_mm = 0;  ///< how far the face's rim may lie outside the bore's
    HoleSight sight;            ///< is_shallow
};

/// The bore's rim (in pixels of the view) near a rough one that the edges gave.
Circle fit_bore(const FaceView& view, const Circle& rough_px, const BoreLooks& looks);

}  // namespace stripbook::measure
