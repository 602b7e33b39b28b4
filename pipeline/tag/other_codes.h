// Codes on tags that somebody else printed: Data Matrix (ISO/IEC 16022) and Code 128 (ISO/IEC 15417) with any
// text, by ZXing-cpp. QR codes come from tag/qr.h.
#pragma once

#include <array>
#include <opencv2/core.hpp>
#include <string>
#include <vector>

namespace stripbook::tag {

struct OtherCode {
    std::string text;       ///< UTF-8
    std::string symbology;  ///< "Data Matrix" or "Code 128"
    /// Clockwise from the symbol's own top left, whole pixels (the library gives no more), so never measure
    /// from them. Of a Code 128 the ends of the lines it was read on: they may fall together in pairs. Frame:
    /// picture handed in, whole numbers are pixel centres.
    std::array<cv::Point2d, 4> corners;
};

/// At most this many of a kind are read in a picture: a Code 128 costs another look at all of it each.
inline constexpr int most_other_codes = 4;

/// The codes in a grey picture (CV_8UC1), any turn. A Data Matrix is right when it reads (Reed-Solomon). Code
/// 128 has one check character of 103 values and bars are everywhere in a workshop, so its text must be known
/// from elsewhere to count: only codes whose text is in `known_texts` come back of it.
std::vector<OtherCode> read_other_codes(const cv::Mat& grey, const std::vector<std::string>& known_texts);

}  // namespace stripbook::tag
