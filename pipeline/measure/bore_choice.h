// Which of the circles that the edges of a hole make is its bore.
#pragma once

#include "measure/face_view.h"
#include "measure/hole_edge.h"

namespace stripbook::measure {

/// Sets both readings of a hole of known depth to what bore_model.h makes of them. Deeper than thin sheet
/// another of its circles, or a bore that one of them may be the lower rim of, may explain the picture
/// clearly better: that one is the first reading then, and a second one that explains clearly less is none.
/// otherwise_mm tells of another that explains as much.
void choose_bore(const FaceView& view, const HoleLooks& looks, HoleEdge& hole);

}  // namespace stripbook::measure
