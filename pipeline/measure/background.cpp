#include "measure/background.h"

#include <cmath>
#include <limits>
#include <opencv2/imgproc.hpp>
#include <vector>

namespace stripbook::measure {

namespace {

// Bench paint, stains, flecks and their mixtures. With 4, a grey gasket on a stained bench was lost; tuned on
// ten rendered bench shots.
constexpr int colours = 7;
constexpr int most_samples = 12000;
constexpr int fewest_samples = 300;
constexpr double least_variance = 1;  // grey levels squared: 8 bits

struct Colour {
    cv::Vec3f mean;
    cv::Matx33f inverse;
};

std::vector<cv::Vec3f> sampled(const cv::Mat3b& lab, const cv::Mat1b& sample) {
    const int step = std::max(1, cv::countNonZero(sample) / most_samples);
    std::vector<cv::Vec3f> values;
    int count = 0;
    for (int y = 0; y < lab.rows; ++y) {
        for (int x = 0; x < lab.cols; ++x) {
            if (sample(y, x) != 0 && count++ % step == 0) {
                values.emplace_back(lab(y, x));
            }
        }
    }
    return values;
}

Colour colour_of(const std::vector<cv::Vec3f>& values, const cv::Mat1i& label, int which) {
    cv::Vec3d sum;
    cv::Matx33d squares = cv::Matx33d::zeros();
    double count = 0;
    for (std::size_t i = 0; i < values.size(); ++i) {
        if (label(static_cast<int>(i)) == which) {
            const cv::Vec3d v(values[i]);
            sum += v;
            squares += v * v.t();
            count += 1;
        }
    }
    const cv::Vec3d mean = sum / std::max(1.0, count);
    const cv::Matx33d covariance =
        squares * (1 / std::max(1.0, count)) - mean * mean.t() + cv::Matx33d::eye() * least_variance;
    return {cv::Vec3f(mean), cv::Matx33f(covariance.inv())};
}

std::vector<Colour> learnt(std::vector<cv::Vec3f> values) {
    const cv::Mat rows(static_cast<int>(values.size()), 3, CV_32F, values.data());
    cv::Mat1i label;
    cv::theRNG().state = 1;  // the same photo gives the same numbers
    constexpr int rounds = 15;
    cv::kmeans(rows, colours, label, {cv::TermCriteria::COUNT, rounds, 0}, 1, cv::KMEANS_PP_CENTERS);
    std::vector<Colour> found;
    for (int k = 0; k < colours; ++k) {
        found.push_back(colour_of(values, label, k));
    }
    return found;
}

float distance(const std::vector<Colour>& background, const cv::Vec3f& value) {
    float least = std::numeric_limits<float>::max();
    for (const auto& colour : background) {
        const cv::Vec3f off = value - colour.mean;
        least = std::min(least, off.dot(colour.inverse * off));
    }
    return std::sqrt(least);
}

}  // namespace

cv::Mat1f background_distance(const cv::Mat3b& lab, const cv::Mat1b& sample, const cv::Mat1b& region) {
    auto values = sampled(lab, sample);
    if (values.size() < fewest_samples) {
        return {};
    }
    const auto background = learnt(std::move(values));
    cv::Mat1f map(lab.size(), 0.F);
    for (int y = 0; y < lab.rows; ++y) {
        for (int x = 0; x < lab.cols; ++x) {
            if (region(y, x) != 0) {
                map(y, x) = distance(background, cv::Vec3f(lab(y, x)));
            }
        }
    }
    constexpr double smooth_px = 1;
    cv::GaussianBlur(map, map, {}, smooth_px);
    return map;
}

}  // namespace stripbook::measure
