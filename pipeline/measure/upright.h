// Pixels of the stored picture and of the picture as its EXIF orientation (1 to 8, CIPA DC-008) shows it
// upright.
#pragma once

#include <opencv2/core.hpp>

namespace stripbook::measure {

cv::Point2d stored_from_upright(cv::Point2d upright, cv::Size stored_size, int orientation);
cv::Point2d upright_from_stored(cv::Point2d stored, cv::Size stored_size, int orientation);

}  // namespace stripbook::measure
