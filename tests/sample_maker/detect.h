// What libapriltag itself sees in a picture: the judge of drawn fiducials.
#pragma once

#include <array>
#include <opencv2/core.hpp>
#include <string>
#include <vector>

namespace stripbook::test {

struct Seen {
    int identity = 0;
    cv::Point2d centre;                  ///< as libapriltag counts pixels
    std::array<cv::Point2d, 4> corners;  ///< as libapriltag counts pixels, in its order p[0] to p[3]
};

/// `family` is tag36h11 or tag25h9. Full resolution, no bit errors forgiven. `refine_edges` is the library's
/// switch.
std::vector<Seen> detect(const cv::Mat1b& picture, const std::string& family, bool refine_edges = true);

/// The one with this identity; fails the test when it was not seen exactly once.
Seen seen_once(const std::vector<Seen>& all, int identity);

/// In our pixel frame and order: upper left of the fiducial first, clockwise. How the library counts is
/// pinned in pixel_frame_test.cpp.
std::array<cv::Point2d, 4> corners_in_our_frame(const Seen& seen);
cv::Point2d centre_in_our_frame(const Seen& seen);

}  // namespace stripbook::test
