// The faces of the scale markers and stage cards (docs/tag-code.md, version 1) as flat grey pictures.
#pragma once

#include <opencv2/core.hpp>
#include <string>
#include <vector>

#include "number/marker_layout.h"
#include "sample_maker/tag_face.h"

namespace stripbook::sample_maker {

/// A scale marker: `kind` is pocket, bench or mat; `sheet_number` goes into its QR code `MARKER-BENCH-0003`.
struct MarkerFace {
    std::string kind;
    int sheet_number = 1;
};

/// A stage card: as-removed, cleaned, inspected, blasted, mock-up, painted or refitted.
struct StageFace {
    std::string stage;
};

/// Throws WrongUse on an unknown kind, naming the ones there are.
const number::MarkerLayout& layout_of(const MarkerFace& face);
std::string marker_qr_text(const MarkerFace& face);
cv::Mat1b draw_marker_face(const MarkerFace& face, double px_per_mm);
std::vector<PrintedFiducial> marker_fiducials(const MarkerFace& face);

inline constexpr double stage_card_width_mm = 85.6;
inline constexpr double stage_card_height_mm = 53.98;
/// Throws WrongUse on an unknown stage, naming the ones there are.
int identity_of(const StageFace& face);
cv::Mat1b draw_stage_face(const StageFace& face, double px_per_mm);
/// Both carry the same identity: the card's word is worth two looks.
std::vector<PrintedFiducial> stage_fiducials(const StageFace& face);

}  // namespace stripbook::sample_maker
