// What is seen in one grey picture, in the words of the book.
#pragma once

#include <opencv2/core.hpp>
#include <vector>

#include "book/records.h"
#include "day/read_photo.h"

namespace stripbook::day {

/// Everything printed that is seen in the picture (CV_8UC1); its frame is the picture's.
std::vector<book::Sighting> sightings_in(const cv::Mat& grey, const Expected& expected);

}  // namespace stripbook::day
