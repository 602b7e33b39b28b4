// How unlike the background each pixel is.
#pragma once

#include <opencv2/core.hpp>

namespace stripbook::measure {

/// A mixture of colours (k-means with a covariance each) learnt from the pixels of `lab` (CV_8UC3, CIELAB as
/// OpenCV packs it) where `sample` is set; the distance of every pixel where `region` is set to the nearest
/// of them in standard deviations, lightly smoothed; 0 elsewhere. An empty map when there is too little to
/// learn from.
cv::Mat1f background_distance(const cv::Mat3b& lab, const cv::Mat1b& sample, const cv::Mat1b& region);

}  // namespace stripbook::measure
