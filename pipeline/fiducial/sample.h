// The grey level between pixels.
#pragma once

#include <opencv2/core.hpp>

namespace stripbook::fiducial {

/// Bilinear between pixel centres; the nearest pixel's level beyond the picture.
inline float grey_at(const cv::Mat& grey, double x, double y) {
    const double right = grey.cols - 1.001;
    const double bottom = grey.rows - 1.001;
    const double cx = x < 0 ? 0 : (x > right ? right : x);
    const double cy = y < 0 ? 0 : (y > bottom ? bottom : y);
    const int ix = static_cast<int>(cx);
    const int iy = static_cast<int>(cy);
    const auto fx = static_cast<float>(cx - ix);
    const auto fy = static_cast<float>(cy - iy);
    const uchar* upper = grey.data + static_cast<std::size_t>(iy) * grey.step + ix;
    const uchar* lower = upper + grey.step;
    const float above = static_cast<float>(upper[0]) + fx * static_cast<float>(upper[1] - upper[0]);
    const float below = static_cast<float>(lower[0]) + fx * static_cast<float>(lower[1] - lower[0]);
    return above + fy * (below - above);
}

}  // namespace stripbook::fiducial
