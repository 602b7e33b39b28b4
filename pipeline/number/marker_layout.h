// The scale markers and stage cards: flat printed sheets with fiducials of AprilTag family 25h9 (35
// identities), all upright. Millimetres, x right, y down, origin at the sheet's top-left corner. The figures
// are those of docs/tag-code.md, version 1.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "number/tag_layout.h"

namespace stripbook::number {

struct MarkerFiducial {
    int identity = 0;
    PointMm centre;
};

struct MarkerLayout {
    std::string kind;  ///< pocket, bench or mat
    double width = 0;
    double height = 0;
    double fiducial_side = 0;  ///< black square, 7 modules
    std::vector<MarkerFiducial> fiducials;
};

/// The three kinds in the order pocket, bench, mat.
const std::vector<MarkerLayout>& marker_layouts();

/// The kind whose sheet carries this 25h9 identity, or null.
const MarkerLayout* marker_with_identity(int identity);

/// The stage word that a stage card with this 25h9 identity shows (28 as-removed ... 34 refitted), else
/// nothing.
std::optional<std::string_view> stage_of_identity(int identity);

}  // namespace stripbook::number
