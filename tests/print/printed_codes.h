// A printed page looked at with other people's readers: where its codes are, in millimetres of the page.
#pragma once

#include <array>
#include <opencv2/core.hpp>
#include <string>
#include <vector>

namespace stripbook::test {

/// A fiducial as libapriltag itself sees it on the page. Corners of the black square, mm from the page's top
/// left, clockwise from the fiducial's own top left (upright as our photographs have it).
struct SeenFiducial {
    std::string family;
    int identity = 0;
    std::array<cv::Point2d, 4> corners_mm;
    [[nodiscard]] cv::Point2d centre_mm() const;
};

std::vector<SeenFiducial> fiducials_on(const cv::Mat& page, int dots_per_inch);

/// What zbarimg reads in `box` (mm) of a page: QR codes, sorted.
std::vector<std::string> qr_codes_in(const cv::Mat& page, int dots_per_inch, const cv::Rect2d& box_mm);

/// Pixels of `box` (mm of the page) that are not white.
int dark_pixels(const cv::Mat& page, int dots_per_inch, const cv::Rect2d& box_mm);

}  // namespace stripbook::test
