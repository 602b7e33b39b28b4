// Which correction a scale marker in a photo gets: that of its own printed sheet, when its QR code says which
// one it is, else one that covers every sheet of its kind in use.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "book/marker_sheets.h"
#include "book/records.h"
#include "scale/plane.h"

namespace stripbook::day {

struct SheetChoice {
    std::optional<scale::SheetCorrection> correction;
    std::string words;    ///< "MARKER-BENCH-0003", "any of 2 bench sheets"
    std::string refusal;  ///< one line when there is no correction: why, and what to do
};

/// `sheets`: all of the book. `seen`: everything sighted in the photo. A sheet that nobody measured gives no
/// correction unless `unmeasured_too`; then u is 2 %.
SheetChoice choose_sheet(const std::string& kind, const std::vector<book::MarkerSheet>& sheets,
                         const std::vector<book::Sighting>& seen, bool unmeasured_too);

}  // namespace stripbook::day
