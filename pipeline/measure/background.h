// How unlike the background each pixel is.
#pragma once

#include <opencv2/core.hpp>

namespace stripbook::measure {

struct BackgroundDistance {
    cv::Mat1f plain;
    cv::Mat1f shade_proof;  ///< from the background in whatever shadow is likest
};

/// A mixture of colours (k-means with a covariance each) learnt from the pixels of `log_colours` where
/// `sample` is set; the distance of every pixel where `region` is set to the nearest of them in standard
/// deviations, lightly smoothed; 0 elsewhere. Empty maps when there is too little to learn from.
BackgroundDistance background_distance(const cv::Mat3f& log_colours, const cv::Mat1b& sample,
                                       const cv::Mat1b& region);

}  // namespace stripbook::measure
