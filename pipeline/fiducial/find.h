// Finding fiducials (the black squares of tags and scale markers) in a picture, once for all rooms that use
// them.
//
// Frame of every PointPx: the picture handed in; whole numbers are pixel centres, x right, y down.
// libapriltag counts from pixel corners (its (0.5, 0.5) is the centre of the first pixel); it is converted
// here and nowhere else, and tests/fiducial pins it.
//
// Upright means: as our tags and scale markers are printed, which is libapriltag's own drawing
// (apriltag_to_image) turned by half. The tag specification does not say it in words; the photographs made
// from it do (docs/tag-code.md).
#pragma once

#include <array>
#include <opencv2/core.hpp>
#include <vector>

namespace stripbook::fiducial {

using PointPx = cv::Point2d;

enum class Family {
    tag36h11,  ///< on tags: 8 modules across the black square, 587 identities
    tag25h9,   ///< on scale markers and stage cards: 7 modules, 35 identities
};

struct Fiducial {
    Family family = Family::tag36h11;
    int identity = 0;
    int bits_corrected = 0;
    PointPx centre;
    /// Corners of the black square, clockwise from the fiducial's own top left.
    std::array<PointPx, 4> corners;
    /// Mean length of the four sides, px.
    [[nodiscard]] double side_px() const;
};

/// All fiducials of both families in a grey picture (CV_8UC1), at full resolution. `refine` fits the corners
/// to the edges (what measuring wants); without it more of the far ones are found (47 of 47 of the library's
/// own published test photographs against 46).
std::vector<Fiducial> find_fiducials(const cv::Mat& grey, bool refine = false);

}  // namespace stripbook::fiducial
