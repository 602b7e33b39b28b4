#pragma once

#include "scale/plane.h"

// A camera straight above the bench sheet, without lens errors.
inline stripbook::scale::Plane plane_above() {
    stripbook::scale::Plane plane;
    plane.marker = "bench";
    plane.sheet_mm = {297, 210};
    plane.lens = stripbook::scale::lens_from_exif(std::nullopt, {1600, 1200});
    const double focal = plane.lens.focal_px;
    constexpr double px_per_mm = 5;
    plane.translation_mm = {-148.5, -105, focal / px_per_mm};
    return plane;
}
