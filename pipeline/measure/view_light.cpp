#include "measure/view_light.h"

#include <algorithm>

#include "measure/edge_profile.h"

namespace stripbook::measure {

ViewLight::ViewLight(const FaceView& view)
    : light_(view.picture.size()), origin_mm_(view.origin_mm), px_per_mm_(view.px_per_mm) {
    constexpr int levels = 256;
    cv::Mat3f of_level(1, levels);  // what each level of each channel adds to the light
    for (int level = 0; level < levels; ++level) {
        const auto grey = static_cast<float>(level);
        for (int c = 0; c < 3; ++c) {
            cv::Vec3f one(0, 0, 0);
            one[c] = grey;
            of_level(0, level)[c] = static_cast<float>(linear_light(one));
        }
    }
    cv::Mat3f parts;
    cv::LUT(view.picture, of_level, parts);
    cv::transform(parts, light_, cv::Matx13f(1, 1, 1));
}

double ViewLight::at(cv::Point2d mm) const {
    const cv::Point2d px = (mm - origin_mm_) * px_per_mm_;
    constexpr double clear_of_edge = 1.001;
    const double x = std::clamp<double>(px.x, 0, light_.cols - clear_of_edge);
    const double y = std::clamp<double>(px.y, 0, light_.rows - clear_of_edge);
    const int ix = static_cast<int>(x);
    const int iy = static_cast<int>(y);
    const double fx = x - ix;
    const double fy = y - iy;
    const auto light = [&](int i, int j) { return static_cast<double>(light_(iy + j, ix + i)); };
    return (light(0, 0) * (1 - fx) + light(1, 0) * fx) * (1 - fy) +
           (light(0, 1) * (1 - fx) + light(1, 1) * fx) * fy;
}

}  // namespace stripbook::measure
