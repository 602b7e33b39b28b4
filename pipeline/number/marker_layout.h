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

/// A printed line to measure on, from tick to tick; level or upright.
struct CheckLine {
    PointMm from{};
    PointMm to{};
    [[nodiscard]] double length() const { return to.x - from.x + to.y - from.y; }
};

struct MarkerLayout {
    std::string kind;  ///< pocket, bench or mat
    double width = 0;
    double height = 0;
    double fiducial_side = 0;  ///< black square, 7 modules
    std::vector<MarkerFiducial> fiducials;
    /// The sheet's QR code (version 1, level M: 21 modules), outside the measuring frame.
    PointMm qr_centre{};
    double qr_side = 0;
    CheckLine check_across{};  ///< parallel to the long side
    CheckLine check_along{};   ///< parallel to the short side
    /// Corner marks to measure the outer sides and diagonals of a glued sheet from: this far in from the
    /// sheet's edges. 0: none.
    double corner_mark_inset = 0;

    [[nodiscard]] double module() const { return fiducial_side / 7; }
    [[nodiscard]] double outer_width() const { return width - 2 * corner_mark_inset; }
    [[nodiscard]] double outer_height() const { return height - 2 * corner_mark_inset; }
};

/// `MARKER-BENCH-0003`: what the sheet's QR code says.
std::string marker_sheet_text(const MarkerLayout& layout, int sheet_number);

/// Kind and number from such a text, else nothing.
struct MarkerSheetName {
    std::string kind;
    int number = 0;
};
std::optional<MarkerSheetName> marker_sheet_from_text(std::string_view text);

/// The three kinds in the order pocket, bench, mat.
const std::vector<MarkerLayout>& marker_layouts();

/// The layout of a kind. Throws WrongUse naming the kinds there are.
const MarkerLayout& marker_layout(std::string_view kind);

/// The kind whose sheet carries this 25h9 identity, or null.
const MarkerLayout* marker_with_identity(int identity);

/// A stage card: ISO/IEC 7810 ID-1, the same 25h9 identity twice, the word between.
struct StageCardLayout {
    static constexpr double width = 85.6;
    static constexpr double height = 53.98;
    static constexpr double fiducial_side = 14;
    static constexpr PointMm first_centre{12, 12};
    static constexpr PointMm second_centre{width - 12, height - 12};
};

inline constexpr int first_stage_identity = 28;
inline constexpr int stage_count = 7;

/// The stage word that a stage card with this 25h9 identity shows (28 as-removed ... 34 refitted), else
/// nothing.
std::optional<std::string_view> stage_of_identity(int identity);

}  // namespace stripbook::number
