#include "measure/log_colour.h"

#include <cmath>
#include <opencv2/imgproc.hpp>

namespace stripbook::measure {

cv::Vec3f log_colour(const cv::Vec3f& bgr) {
    constexpr float toe = 8;  // grey levels
    const float blue = std::log(bgr[0] + toe);
    const float green = std::log(bgr[1] + toe);
    const float red = std::log(bgr[2] + toe);
    return {(blue + 2 * green + red) / 4, red - green, blue - green};
}

cv::Mat3f log_colours(const cv::Mat3b& picture, double smooth_px) {
    cv::Mat3f colours;
    picture.convertTo(colours, CV_32F);
    cv::GaussianBlur(colours, colours, {}, smooth_px);
    for (auto& colour : colours) {
        colour = log_colour(colour);
    }
    return colours;
}

}  // namespace stripbook::measure
