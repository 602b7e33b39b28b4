// What of a photo can be the part at all: the sheet, its squares and the tags are not.
//
// Masks are a quarter of the photo's size (small_scale); small pixel (i, j) covers the photo's pixels 4 i to
// 4 i + 3, so its centre lies at 4 i + 1.5.
#pragma once

#include <opencv2/core.hpp>
#include <vector>

#include "scale/plane.h"

namespace stripbook::measure {

inline constexpr int small_scale = 4;
cv::Point2d small_from_photo(cv::Point2d photo_px);
cv::Point2d photo_from_small(cv::Point2d small_px);
/// Whether a small mask is set where the photo's pixel lies; outside it: no.
bool is_set_at(const cv::Mat1b& small, cv::Point2d photo_px);

struct Surroundings {
    cv::Mat1b sheet;    ///< 255 on the marker's sheet
    cv::Mat1b squares;  ///< 255 on its black squares and a little around
    cv::Mat1b inner;  ///< 255 on the sheet within the frame of its squares; nowhere on a pocket marker, whose
                      ///< QR code lies there
    cv::Mat1b not_part;  ///< 255 on tags and whatever else the caller named, and a little around
};

Surroundings surroundings_of(cv::Size photo_size, const scale::Plane& plane,
                             const std::vector<std::vector<cv::Point2d>>& not_part_px);

/// The outline of the sheet in pixels (the lens bends it).
std::vector<cv::Point2d> sheet_outline_px(const scale::Plane& plane);

/// Corners of the printed black squares of the sheet, in millimetres as printed, clockwise from top left.
std::vector<std::vector<cv::Point2d>> printed_squares_mm(const scale::Plane& plane);

}  // namespace stripbook::measure
