// Scale markers and stage cards in a picture, from its fiducials of family 25h9.
#pragma once

#include <array>
#include <opencv2/core.hpp>
#include <string>
#include <vector>

#include "fiducial/find.h"

namespace stripbook::scale {

struct MarkerSighting {
    std::string kind;   ///< pocket, bench or mat
    int fiducials = 0;  ///< how many of its fiducials were found
    /// Corners of the sheet, clockwise from its top left; frame of fiducial/find.h.
    std::array<cv::Point2d, 4> corners;
    std::vector<fiducial::Fiducial> found;  ///< its fiducials
};

struct StageCardSighting {
    std::string stage;       ///< the word on the card
    bool confirmed = false;  ///< both of its fiducials were found
    cv::Point2d centre;
};

struct MarkerReading {
    std::vector<MarkerSighting> markers;
    std::vector<StageCardSighting> stage_cards;
};

/// A scale marker counts when at least two of its fiducials were found and all found ones of its kind lie on
/// one sheet as drawn (number/marker_layout.h); two sheets of one kind in a picture are not told apart and
/// count as none.
MarkerReading find_markers(const std::vector<fiducial::Fiducial>& found);

}  // namespace stripbook::scale
