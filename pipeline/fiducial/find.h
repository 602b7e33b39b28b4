// Finding fiducials (the black squares of tags and scale markers) in a picture, once for all rooms that use
// them.
//
// Frame of every PointPx: the picture handed in; whole numbers are pixel centres, x right, y down.
//
// Upright means: as our tags and scale markers are printed, which is libapriltag's own drawing
// (apriltag_to_image) turned by half. The tag specification does not say it in words; the photographs made
// from it do (docs/tag-code.md).
#pragma once

#include <array>
#include <opencv2/core.hpp>
#include <vector>

#include "fiducial/pyramid.h"

namespace stripbook::fiducial {

using PointPx = cv::Point2d;

enum class Family {
    tag36h11,  ///< on tags: 8 modules across the black square, 587 identities
    tag25h9,   ///< on scale markers and stage cards: 7 modules, 35 identities
};

struct Fiducial {
    Family family = Family::tag36h11;
    int identity = 0;
    /// Correlation of the modules seen with those of the identity, blur allowed for: 1 is perfect.
    double likeness = 1;
    PointPx centre;
    /// Corners of the black square, clockwise from the fiducial's own top left.
    std::array<PointPx, 4> corners;
    /// Mean length of the four sides, px.
    [[nodiscard]] double side_px() const;
};

/// A dark square on paper that could be a fiducial and could not be read.
struct UnreadSquare {
    std::array<PointPx, 4> corners;  ///< clockwise as seen; which one comes first means nothing
};

/// What one look over a whole picture gives.
struct Look {
    std::vector<Fiducial> fiducials;
    std::vector<UnreadSquare> unread;  ///< the finder patterns of QR codes among them
};

/// Looks for fiducials of both families of any size from about eight pixels on: dark blobs are gathered at
/// every level of the pyramid, their outline is moved onto the edges, and the modules inside are compared
/// with all identities at once. Corners are refined in the full picture.
Look look_for_fiducials(const Pyramid& pyramid);

/// Looks again, more closely and under dirt, within boxes of the picture around squares of about `side_px`;
/// adds what is new.
struct CloserBox {
    cv::Rect2d box;
    double side_px = 0;
};
void look_closer(const Pyramid& pyramid, const std::vector<CloserBox>& boxes, Look& look);

/// The fiducials of a grey picture (CV_8UC1).
std::vector<Fiducial> find_fiducials(const cv::Mat& grey);

/// Moves the corners of a fiducial onto the edges of the full picture, as measuring wants them; as they were
/// when an edge is not seen well enough.
std::array<PointPx, 4> refined_corners(const cv::Mat& grey, const std::array<PointPx, 4>& corners,
                                       Family family);

}  // namespace stripbook::fiducial
