#include "photo/on_white.h"

namespace stripbook::photo {

cv::Mat on_white(const cv::Mat& bgra, bool multiplied) {
    cv::Mat bgr(bgra.size(), CV_8UC3);
    for (int y = 0; y < bgra.rows; ++y) {
        const auto* from = bgra.ptr<cv::Vec4b>(y);
        auto* to = bgr.ptr<cv::Vec3b>(y);
        for (int x = 0; x < bgra.cols; ++x) {
            const int alpha = from[x][3];
            for (int channel = 0; channel < 3; ++channel) {
                const int colour = multiplied ? from[x][channel] : (from[x][channel] * alpha + 127) / 255;
                to[x][channel] = cv::saturate_cast<unsigned char>(colour + 255 - alpha);
            }
        }
    }
    return bgr;
}

}  // namespace stripbook::photo
