// QR codes in a picture, by ZXing-cpp.
#pragma once

#include <array>
#include <opencv2/core.hpp>
#include <string>
#include <vector>

namespace stripbook::tag {

struct QrCode {
    std::string text;  ///< UTF-8
    /// Corners of the symbol, clockwise from its own top left. Whole pixels only (the library gives no more),
    /// so never measure from them. Frame: picture handed in, whole numbers are pixel centres.
    std::array<cv::Point2d, 4> corners;
    [[nodiscard]] cv::Point2d centre() const;
};

/// All QR codes in a grey picture (CV_8UC1), any turn.
std::vector<QrCode> read_qr_codes(const cv::Mat& grey);

}  // namespace stripbook::tag
