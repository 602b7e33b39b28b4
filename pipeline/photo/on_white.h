// Transparent pictures, laid on white paper.
#pragma once

#include <opencv2/core.hpp>

namespace stripbook::photo {

/// CV_8UC4 (BGRA) to CV_8UC3. `multiplied`: the colours already are, by their alpha.
cv::Mat on_white(const cv::Mat& bgra, bool multiplied);

}  // namespace stripbook::photo
