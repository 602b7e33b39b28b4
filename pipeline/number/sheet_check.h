// Printers stretch paper: what a person measures on a printed scale marker, and the correction that follows.
//
//   factor = measured length / drawn length, across the sheet (x) and along it (y). A printed millimetre is
//   `factor` millimetres long. A sheet in one piece is corrected by its check lines; one glued from several
//   sheets of paper by its outer sides, since the seams count there too.
//   u of a factor = u of the length / drawn length: 0.1 mm for a caliper on a printed line, 0.5 mm for a tape
//   on an outer side (common practice, no source), two sides averaged.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "number/marker_layout.h"

namespace stripbook::number {

inline constexpr double caliper_u_mm = 0.1;
inline constexpr double tape_u_mm = 0.5;

/// The outer sides between the corner marks, and the diagonals: top left to bottom right, then top right to
/// bottom left. Millimetres.
struct OuterMeasured {
    double top = 0, right = 0, bottom = 0, left = 0;
    double falling = 0, rising = 0;
    bool operator==(const OuterMeasured&) const = default;
};

struct SheetMeasured {
    double across_mm = 0;  ///< the check line parallel to the long side
    double along_mm = 0;   ///< the one parallel to the short side
    std::optional<OuterMeasured> outer;
    double line_u_mm =
        caliper_u_mm;  ///< standard uncertainty of both lines; 0: the sheet is known to be exact
    bool operator==(const SheetMeasured&) const = default;
};

struct SheetCorrection {
    double across = 1, along = 1;
    double u_across = 0, u_along = 0;  ///< standard uncertainties of the factors
};

/// A factor further off than this is questioned, and beyond the second it is refused: it is not this line.
inline constexpr double questioned_share = 0.01;
inline constexpr double refused_share = 0.05;
/// Opposite sides, or the diagonals, that differ by more than this say that the pieces sit askew: on a mat
/// 2.5 mm, five times the tape's uncertainty.
inline constexpr double askew_share = 0.003;

SheetCorrection correction_of(const MarkerLayout& layout, const SheetMeasured& measured);

/// What is not plausible about a measuring, in words, to be asked; empty: plausible. Throws WrongUse when a
/// length is beyond `refused_share`, or a sheet of several pieces lacks its outer sides.
std::vector<std::string> questions_about(const MarkerLayout& layout, int pieces,
                                         const SheetMeasured& measured);

}  // namespace stripbook::number
