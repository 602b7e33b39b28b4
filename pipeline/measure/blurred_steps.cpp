#include "measure/blurred_steps.h"

#include <algorithm>
#include <cmath>

#include "measure/edge_profile.h"

namespace stripbook::measure {

namespace {

constexpr double sample_px = 0.5;
constexpr double place_px = 0.25;
constexpr int channels = 3;
constexpr std::size_t most_unknowns = BlurredSteps::most_steps + 1;

// A step at each place: 0 inside, 1 outside, blurred by a bell.
cv::Mat1d steps_at(int places, int samples, double blur_px) {
    cv::Mat1d steps(places, samples);
    for (int p = 0; p < places; ++p) {
        for (int k = 0; k < samples; ++k) {
            const double beyond = k * sample_px - p * place_px;
            steps(p, k) = 0.5 * std::erfc(-beyond / (blur_px * std::sqrt(2.0)));
        }
    }
    return steps;
}

cv::Mat1d light_along(const cv::Mat3b& picture, cv::Point2d from, cv::Point2d direction, int samples) {
    cv::Mat1d light(samples, channels);
    for (int k = 0; k < samples; ++k) {
        const cv::Vec3d here = linear_colour(colour_at(picture, from + direction * (k * sample_px)));
        for (int c = 0; c < channels; ++c) {
            light(k, c) = here[c];
        }
    }
    return light;
}

cv::Vec3d sum_of_rows(const cv::Mat1d& light, int first, int last) {
    cv::Vec3d sum;
    for (int k = first; k < last; ++k) {
        sum += cv::Vec3d(light(k, 0), light(k, 1), light(k, 2));
    }
    return sum;
}

}  // namespace

BlurredSteps::BlurredSteps(const cv::Mat3b& picture, const RayZone& zone, double blur_px)
    : from_px_(zone.from_px),
      samples_(static_cast<int>((zone.to_px - zone.from_px) / sample_px) + 1),
      places_(static_cast<int>((zone.to_px - zone.from_px) / place_px) + 1) {
    const cv::Mat1d steps = steps_at(places_, samples_, blur_px);
    cv::mulTransposed(steps, products_, false);
    cv::reduce(steps, sums_, 1, cv::REDUCE_SUM);
    constexpr int outermost = 5;  // samples
    for (int r = 0; r < rays; ++r) {
        const cv::Point2d out = direction(r);
        const cv::Mat1d light = light_along(picture, zone.centre_px + out * zone.from_px, out, samples_);
        Ray ray;
        cv::gemm(steps, light, 1, cv::noArray(), 0, ray.with_steps);
        ray.sum = sum_of_rows(light, 0, samples_);
        ray.squares = light.dot(light);
        const int ends = std::max(0, samples_ - outermost);
        ray.outer_light =
            cv::norm(sum_of_rows(light, ends, samples_)) / ((samples_ - ends) * std::sqrt(channels));
        rays_.push_back(std::move(ray));
    }
}

cv::Point2d BlurredSteps::direction(int ray) {
    const double angle = 2 * CV_PI * ray / rays;
    return {std::cos(angle), std::sin(angle)};
}

int BlurredSteps::place_of(double px) const {
    return std::clamp(static_cast<int>(std::lround((px - from_px_) / place_px)), 0, places_ - 1);
}

int BlurredSteps::readings() const {
    return channels * samples_;
}

double BlurredSteps::outer_light(int ray) const {
    return rays_[static_cast<std::size_t>(ray)].outer_light;
}

// Normal equations of a constant and the steps, by Cholesky's decomposition; what they explain is the squared
// length of the half solved right side.
double BlurredSteps::squares_left(int ray, const Steps& steps) const {
    const Ray& light = rays_[static_cast<std::size_t>(ray)];
    std::array<std::array<double, most_unknowns>, most_unknowns> a{};
    std::array<cv::Vec3d, most_unknowns> b{};
    a[0][0] = samples_;
    b[0] = light.sum;
    for (std::size_t i = 0; i < steps.count; ++i) {
        const Step& step = steps.step[i];
        a[i + 1][0] = sums_(step.place, 0);
        for (std::size_t j = 0; j <= i; ++j) {
            a[i + 1][j + 1] = products_(step.place, steps.step[j].place);
        }
        a[i + 1][i + 1] += step.stiffness;
        const double* with = light.with_steps[step.place];
        b[i + 1] = {with[0], with[1], with[2]};
    }
    constexpr double smallest_pivot = 1e-12;
    double explained = 0;
    for (std::size_t i = 0; i <= steps.count; ++i) {
        for (std::size_t j = 0; j <= i; ++j) {
            double rest = a[i][j];
            for (std::size_t k = 0; k < j; ++k) {
                rest -= a[i][k] * a[j][k];
            }
            a[i][j] = i == j ? std::sqrt(std::max(smallest_pivot, rest)) : rest / a[j][j];
        }
        for (std::size_t k = 0; k < i; ++k) {
            b[i] -= a[i][k] * b[k];
        }
        b[i] /= a[i][i];
        explained += b[i].dot(b[i]);
    }
    return std::max(0.0, light.squares - explained);
}

}  // namespace stripbook::measure
