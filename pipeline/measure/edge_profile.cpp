#include "measure/edge_profile.h"

#include <algorithm>
#include <cmath>

namespace stripbook::measure {

namespace {

std::vector<cv::Vec3f> smoothed(const std::vector<cv::Vec3f>& values, const std::vector<float>& weights) {
    const int half = static_cast<int>(weights.size() / 2);
    const int last = static_cast<int>(values.size()) - 1;
    std::vector<cv::Vec3f> result(values.size());
    for (int i = 0; i <= last; ++i) {
        auto weight = weights.begin();
        for (int k = i - half; k <= i + half; ++k) {
            result[static_cast<std::size_t>(i)] +=
                *weight++ * values[static_cast<std::size_t>(std::clamp(k, 0, last))];
        }
    }
    return result;
}

}  // namespace

std::vector<float> bell_weights(double sigma_samples) {
    const int half = static_cast<int>(std::ceil(3 * sigma_samples));
    std::vector<double> bell;  // cv::getGaussianKernel takes too long to be asked for each profile
    double sum = 0;
    for (int k = -half; k <= half; ++k) {
        bell.push_back(std::exp(-0.5 * k * k / (sigma_samples * sigma_samples)));
        sum += bell.back();
    }
    std::vector<float> weights;
    weights.reserve(bell.size());
    for (const double weight : bell) {
        weights.push_back(static_cast<float>(weight / sum));
    }
    return weights;
}

cv::Vec3f colour_at(const cv::Mat3b& picture, cv::Point2d px) {
    const double x = std::clamp<double>(px.x, 0, picture.cols - 1.001);
    const double y = std::clamp<double>(px.y, 0, picture.rows - 1.001);
    const int ix = static_cast<int>(x);
    const int iy = static_cast<int>(y);
    const auto fx = static_cast<float>(x - ix);
    const auto fy = static_cast<float>(y - iy);
    const cv::Vec3b* upper = picture.ptr<cv::Vec3b>(iy) + ix;
    const cv::Vec3b* lower = picture.ptr<cv::Vec3b>(iy + 1) + ix;
    cv::Vec3f value;
    for (int c = 0; c < 3; ++c) {
        const float top = static_cast<float>(upper[0][c]) * (1 - fx) + static_cast<float>(upper[1][c]) * fx;
        const float low = static_cast<float>(lower[0][c]) * (1 - fx) + static_cast<float>(lower[1][c]) * fx;
        value[c] = top * (1 - fy) + low * fy;
    }
    return value;
}

Profile profile_along(const cv::Mat3b& picture, cv::Point2d from, cv::Point2d step, int count) {
    const double px_per_sample = cv::norm(step);
    std::vector<cv::Vec3f> raw;
    raw.reserve(static_cast<std::size_t>(count));
    for (int i = 0; i < count; ++i) {
        raw.push_back(colour_at(picture, from + step * i));
    }
    Profile profile;
    profile.colour = smoothed(raw, bell_weights(edge_sigma_px / px_per_sample));
    profile.slope.assign(raw.size(), 0);
    for (std::size_t i = 1; i + 1 < raw.size(); ++i) {
        const cv::Vec3f d = profile.colour[i + 1] - profile.colour[i - 1];
        profile.slope[i] = static_cast<float>(cv::norm(d) / (2 * px_per_sample));
    }
    return profile;
}

double peak_near(const std::vector<float>& slope, int at) {
    const int last = static_cast<int>(slope.size()) - 2;
    int i = std::clamp(at, 1, std::max(1, last));
    const auto s = [&](int k) { return static_cast<double>(slope[static_cast<std::size_t>(k)]); };
    while (i < last && s(i + 1) > s(i)) {
        ++i;
    }
    while (i > 1 && s(i - 1) > s(i)) {
        --i;
    }
    const double bend = s(i - 1) - 2 * s(i) + s(i + 1);
    return bend < 0 ? i + std::clamp((s(i - 1) - s(i + 1)) / (2 * bend), -0.5, 0.5) : i;
}

cv::Vec3d linear_colour(const cv::Vec3f& bgr) {
    const auto linear = [](float level) {
        const double v = static_cast<double>(level) / 255;
        return v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4);  // IEC 61966-2-1
    };
    return {linear(bgr[0]), linear(bgr[1]), linear(bgr[2])};
}

double linear_light(const cv::Vec3f& bgr) {
    return linear_colour(bgr).dot({0.0722, 0.7152, 0.2126});
}

double linear_light(double grey) {
    return linear_light(cv::Vec3f::all(static_cast<float>(grey)));
}

double contrast_across(const Profile& profile, int at, double samples_per_px) {
    constexpr double aside_px = 2.5;  // clear of the edge's own blur
    const int aside = static_cast<int>(std::lround(aside_px * samples_per_px));
    const int last = static_cast<int>(profile.colour.size()) - 1;
    const double before =
        linear_light(profile.colour[static_cast<std::size_t>(std::clamp(at - aside, 0, last))]);
    const double after =
        linear_light(profile.colour[static_cast<std::size_t>(std::clamp(at + aside, 0, last))]);
    constexpr double dark = 1e-4;
    return (after - before) / (after + before + dark);
}

}  // namespace stripbook::measure
