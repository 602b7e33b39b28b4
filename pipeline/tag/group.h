// Which fiducials sit on one tag: their places on the layout must fit one plane seen by a camera.
#pragma once

#include <array>
#include <opencv2/core.hpp>
#include <optional>
#include <vector>

#include "fiducial/find.h"
#include "number/code_word.h"

namespace stripbook::tag {

/// Fiducials of one tag. The layout repeats after half a turn, so `at` is right or turned by half; which one
/// is decided by what the fiducials say, or by where the QR code sits.
struct Group {
    std::array<std::optional<fiducial::Fiducial>, 4> at;  ///< by corner 0..3
    /// Pixels from tag millimetres (large tag, frame of number/tag_layout.h), under the assignment of `at`.
    cv::Matx33d photo_from_tag = cv::Matx33d::eye();
    double rms_px = 0;  ///< of the fiducials' corners against that plane

    [[nodiscard]] int count() const;
    [[nodiscard]] number::SeenIdentities identities() const;
};

/// The same group with every fiducial at the corner half a turn on.
Group turned_by_half(const Group& group);

/// Corners of the black square of the fiducial printed at `corner`, in its own order (clockwise from its own
/// top left), tag millimetres. The fiducial is printed turned clockwise by corner x 90 degrees.
std::array<cv::Point2d, 4> printed_corners(int corner);

/// Groups of two to four fiducials (family 36h11 only), and each fiducial left alone as a group of one at
/// corner 0.
std::vector<Group> group_fiducials(const std::vector<fiducial::Fiducial>& found);

/// Fits the group's plane to its members anew; false, and nothing changed, when they do not lie on one tag.
bool refit(Group& group);

/// Whether the fiducial fits at `corner` of a tag whose QR code was found with these corners; used for
/// fiducials that found no partner. The plane is fitted to both; nothing when they do not lie on one tag.
std::optional<cv::Matx33d> plane_of_qr_and_fiducial(const std::array<cv::Point2d, 4>& qr_corners,
                                                    const fiducial::Fiducial& fiducial, int corner);

/// Pixels from tag millimetres by the QR code alone: rough, since its corners are whole pixels.
cv::Matx33d plane_of_qr(const std::array<cv::Point2d, 4>& qr_corners);

/// `photo_from_tag` applied to a point.
cv::Point2d mapped(const cv::Matx33d& transform, const cv::Point2d& point);

}  // namespace stripbook::tag
