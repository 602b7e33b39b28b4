// Edges along lines across a picture.
#pragma once

#include <opencv2/core.hpp>
#include <vector>

namespace stripbook::measure {

/// Colours along a line, smoothed along it, and how fast they change.
struct Profile {
    std::vector<cv::Vec3f> colour;
    std::vector<float> slope;  ///< grey levels per px; colour channels as a root of their squares
};

/// A normal distribution's weights to three `sigma_samples` on both sides; their sum is 1.
std::vector<float> bell_weights(double sigma_samples);

/// Interpolated colour of a picture (CV_8UC3); beyond its edge the edge's.
cv::Vec3f colour_at(const cv::Mat3b& picture, cv::Point2d px);

/// `count` samples from `from`, `step` apart; `px_per_sample` is the length of `step`. Smoothed with a bell
/// of edge_sigma_px.
Profile profile_along(const cv::Mat3b& picture, cv::Point2d from, cv::Point2d step, int count);

inline constexpr double edge_sigma_px = 1.0;

/// Where the slope has its peak near sample `at`, to a fraction of a sample (parabola).
double peak_near(const std::vector<float>& slope, int at);

/// Linear light (sRGB), each channel 0 to 1, of a colour in BGR grey levels.
cv::Vec3d linear_colour(const cv::Vec3f& bgr);

/// Brightness in linear light (sRGB), 0 to 1, of a colour in BGR grey levels.
double linear_light(const cv::Vec3f& bgr);

/// The same of a grey level.
double linear_light(double grey);

/// (a - b) / (a + b) of the linear light on the two sides of an edge at sample `at`; positive when the later
/// side is brighter.
double contrast_across(const Profile& profile, int at, double samples_per_px);

}  // namespace stripbook::measure
