// Linear light as a photo keeps it: sRGB levels, IEC 61966-2-1.
#pragma once

#include <cmath>
#include <opencv2/imgproc.hpp>

namespace drawn_light {

inline double linear(double level) {
    const double v = level / 255;
    return v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4);  // IEC 61966-2-1
}

inline double level(double light) {
    return 255 * (light <= 0.0031308 ? 12.92 * light : 1.055 * std::pow(light, 1 / 2.4) - 0.055);
}

// Grey levels of linear light, with noise in levels added.
inline cv::Mat3b photo_of(const cv::Mat1f& light, const cv::Mat1f& noise) {
    cv::Mat1b bytes(light.size());
    for (int y = 0; y < light.rows; ++y) {
        for (int x = 0; x < light.cols; ++x) {
            bytes(y, x) = cv::saturate_cast<uchar>(level(static_cast<double>(light(y, x))) +
                                                   static_cast<double>(noise(y, x)));
        }
    }
    cv::Mat3b colour;
    cv::cvtColor(bytes, colour, cv::COLOR_GRAY2BGR);
    return colour;
}

}  // namespace drawn_light
