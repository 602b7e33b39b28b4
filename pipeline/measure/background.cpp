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
// Natural logarithms: noise at a quarter of the size, and 8 bits.
constexpr double least_brightness_sd = 0.01;
constexpr double least_ratio_sd = 0.008;
// A bench is more even in its hue than in its brightness.
constexpr float ratios_count = 3;

struct Colour {
    cv::Vec3f mean;
    cv::Matx33f inverse;
};

std::vector<cv::Vec3f> sampled(const cv::Mat3f& colours_of, const cv::Mat1b& sample) {
    const int step = std::max(1, cv::countNonZero(sample) / most_samples);
    std::vector<cv::Vec3f> values;
    int count = 0;
    for (int y = 0; y < colours_of.rows; ++y) {
        for (int x = 0; x < colours_of.cols; ++x) {
            if (sample(y, x) != 0 && count++ % step == 0) {
                values.push_back(colours_of(y, x));
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
    constexpr double brightness = least_brightness_sd * least_brightness_sd;
    constexpr double ratio = least_ratio_sd * least_ratio_sd;
    const cv::Matx33d covariance = squares * (1 / std::max(1.0, count)) - mean * mean.t() +
                                   cv::Matx33d::diag({brightness, ratio, ratio});
    return {cv::Vec3f(mean), cv::Matx33f(covariance.inv())};
}

std::vector<Colour> learnt(const std::vector<cv::Vec3f>& values) {
    std::vector<cv::Vec3f> weighted;
    for (const auto& v : values) {
        weighted.emplace_back(v[0], ratios_count * v[1], ratios_count * v[2]);
    }
    const cv::Mat rows(static_cast<int>(weighted.size()), 3, CV_32F, weighted.data());
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

struct Distances {
    float plain = std::numeric_limits<float>::max();
    float shade_proof = std::numeric_limits<float>::max();
};

Distances distances(const std::vector<Colour>& background, const cv::Vec3f& value) {
    constexpr float deepest = 1.2F;          // shadow, natural logarithm
    constexpr float price_of_depth = 0.25F;  // half a squared standard deviation for each
    Distances least;
    for (const auto& colour : background) {
        const cv::Vec3f off = value - colour.mean;
        const cv::Vec3f pull = colour.inverse * off;
        const float plain = off.dot(pull);
        least.plain = std::min(least.plain, plain);
        // The depth of shadow at which the squared distance and its price are least.
        const float bend = colour.inverse(0, 0);
        const float depth = std::clamp(-(pull[0] + price_of_depth) / bend, 0.F, deepest);
        least.shade_proof =
            std::min(least.shade_proof, plain + depth * (2 * pull[0] + depth * bend + 2 * price_of_depth));
    }
    return {std::sqrt(least.plain), std::sqrt(std::max(0.F, least.shade_proof))};
}

}  // namespace

BackgroundDistance background_distance(const cv::Mat3f& log_colours, const cv::Mat1b& sample,
                                       const cv::Mat1b& region) {
    const auto values = sampled(log_colours, sample);
    if (values.size() < fewest_samples) {
        return {};
    }
    const auto background = learnt(values);
    constexpr float far = 20;  // farther is no other
    BackgroundDistance map{cv::Mat1f(log_colours.size(), 0.F), cv::Mat1f(log_colours.size(), 0.F)};
    for (int y = 0; y < region.rows; ++y) {
        for (int x = 0; x < region.cols; ++x) {
            if (region(y, x) != 0) {
                const Distances d = distances(background, log_colours(y, x));
                map.plain(y, x) = std::min(far, d.plain);
                map.shade_proof(y, x) = std::min(far, d.shade_proof);
            }
        }
    }
    constexpr double smooth_px = 1;
    cv::GaussianBlur(map.plain, map.plain, {}, smooth_px);
    cv::GaussianBlur(map.shade_proof, map.shade_proof, {}, smooth_px);
    return map;
}

}  // namespace stripbook::measure
