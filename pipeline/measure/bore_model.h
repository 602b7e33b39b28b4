// A hole held against the picture as a whole.
//
// The broken edge, the bore's wall and the shadow at its foot may lie within some pixels of each other and
// show as one dark line, and an edge finder takes one rim for another. Here they are one model: from outside
// in the face; the broken edge, from the face's rim to the bore's; the wall, as far as the camera sees it, or
// a shadow; the bench. The hole's radius, how wide its edge is broken and where the camera stands say where
// these lie; the light of each is free in each direction (the broken edge's not far from the face's); the
// blur is known (edge_blur.h). The radius whose model leaves least of the picture unexplained is the hole's.
#pragma once

#include <opencv2/core.hpp>
#include <vector>

#include "measure/circle_fit.h"
#include "measure/face_view.h"
#include "measure/hole_rims.h"

namespace stripbook::measure {

/// Whether a hole is no deeper than 2 mm, or its depth not known. There its edge is broken by less than the
/// blur's reach, and misfits do not tell one rim from another.
bool is_thin(const HoleSight& sight);

struct BoreLooks {
    double blur_px = 1;         ///< of the view, as colour_at samples it
    double widest_edge_mm = 0;  ///< how far the face's rim may lie outside the bore's
    HoleSight sight;            ///< of known depth
};

/// A bore's rim, in pixels of the view, and what its model leaves unexplained, in squares of the light's
/// noise; each direction without an edge where its wall's foot must show counts as some more of them: a lower
/// rim taken for a bore has no lower rim itself.
struct BoreFit {
    Circle rim_px;
    double misfit = 0;
};

/// The bore's rim near each of some rough circles for one hole (one or more, the likeliest first) that the
/// edges gave; their misfits compare. More starts are tried after these where they lie within the light that
/// these need.
std::vector<BoreFit> fit_bores(const FaceView& view, const std::vector<Circle>& starts_px,
                               const BoreLooks& looks, const std::vector<Circle>& more_px = {});

}  // namespace stripbook::measure
