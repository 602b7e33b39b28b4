// Where everything sits on a printed tag, millimetres. Frame: x right, y down, origin at the top-left corner
// of the printed face. The figures are those of docs/tag-code.md, version 1.
#pragma once

#include <array>

namespace stripbook::number {

struct PointMm {
    double x = 0;
    double y = 0;
};

/// The large tag; the small tag is the same drawing at `small_tag_scale`.
struct TagLayout {
    static constexpr double width = 120;
    static constexpr double height = 60;
    static constexpr PointMm hole_centre{7, 30};
    static constexpr double hole_diameter = 5;
    /// Corners 0 to 3, clockwise from the top left. Fiducial i is printed turned clockwise by i x 90 degrees.
    static constexpr std::array<PointMm, 4> fiducial_centres{{{24, 11}, {109, 11}, {109, 49}, {24, 49}}};
    static constexpr double fiducial_side = 16;  ///< black square: 8 modules of 2
    static constexpr double fiducial_quiet = 2;  ///< white around it, at least
    static constexpr PointMm qr_centre{50, 30};
    static constexpr double qr_module = 1.1;
    static constexpr int qr_modules = 21;  ///< ISO/IEC 18004 version 1
    static constexpr double qr_side = qr_module * qr_modules;
    static constexpr double qr_quiet = 4 * qr_module;
    static constexpr double text_left = 66, text_right = 98, text_top = 20, text_bottom = 40;
};

inline constexpr double small_tag_scale = 0.6;

}  // namespace stripbook::number
