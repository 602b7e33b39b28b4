#include "measure/closed_line.h"

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>

namespace stripbook::measure {

namespace {

double signed_area(const std::vector<cv::Point2d>& points) {
    double area = 0;
    for (std::size_t i = 0; i < points.size(); ++i) {
        area += points[i].cross(points[(i + 1) % points.size()]);
    }
    return area / 2;
}

}  // namespace

double wrapped_length(const std::vector<cv::Point2d>& points) {
    double length = 0;
    for (std::size_t i = 0; i < points.size(); ++i) {
        length += cv::norm(points[(i + 1) % points.size()] - points[i]);
    }
    return length;
}

std::vector<cv::Point2d> evenly_spaced(const std::vector<cv::Point2d>& points, std::size_t count) {
    std::vector<cv::Point2d> result;
    const double step = wrapped_length(points) / static_cast<double>(count);
    double ahead = 0;
    for (std::size_t i = 0; i < points.size() && result.size() < count; ++i) {
        const cv::Point2d a = points[i];
        const cv::Point2d d = points[(i + 1) % points.size()] - a;
        const double length = cv::norm(d);
        for (; ahead < length && result.size() < count; ahead += step) {
            result.push_back(a + d * (ahead / length));
        }
        ahead -= length;
    }
    return result;
}

std::vector<cv::Point2d> rounded_off(const std::vector<cv::Point2d>& points, int half) {
    const int n = static_cast<int>(points.size());
    std::vector<cv::Point2d> result(points.size());
    for (int i = 0; i < n; ++i) {
        for (int k = -half; k <= half; ++k) {
            result[static_cast<std::size_t>(i)] += points[static_cast<std::size_t>((i + k + 2 * n) % n)];
        }
        result[static_cast<std::size_t>(i)] /= 2 * half + 1;
    }
    return result;
}

std::vector<cv::Point2d> cubic_between(cv::Point2d a, cv::Point2d from_a, cv::Point2d b, cv::Point2d to_b,
                                       std::size_t between) {
    const double length = cv::norm(b - a);
    std::vector<cv::Point2d> points;
    for (std::size_t k = 1; k <= between; ++k) {
        const double t = static_cast<double>(k) / static_cast<double>(between + 1);
        const double u = 1 - t;
        points.push_back(a * (u * u * (1 + 2 * t)) + b * (t * t * (1 + 2 * u)) +
                         (from_a * (t * u * u) - to_b * (t * t * u)) * length);
    }
    return points;
}

std::vector<cv::Point2d> clockwise(std::vector<cv::Point2d> outline) {
    if (signed_area(outline) < 0) {
        std::reverse(outline.begin(), outline.end());
    }
    return outline;
}

std::vector<cv::Point2d> opened_and_closed(const std::vector<cv::Point2d>& outline, double radius_px) {
    constexpr int scale = 2;
    const std::vector<cv::Point2f> single(outline.begin(), outline.end());
    const cv::Rect box = cv::boundingRect(single);
    const int half = static_cast<int>(std::ceil(radius_px / scale));
    const int margin = 2 * half + 2;
    std::vector<cv::Point> corners;
    corners.reserve(outline.size());
    for (const auto& p : outline) {
        corners.emplace_back(cvRound((p.x - box.x) / scale) + margin,
                             cvRound((p.y - box.y) / scale) + margin);
    }
    cv::Mat1b mask(box.height / scale + 2 * margin, box.width / scale + 2 * margin, uchar{0});
    cv::fillPoly(mask, std::vector<std::vector<cv::Point>>{corners}, cv::Scalar(255));
    const cv::Mat disc = cv::getStructuringElement(cv::MORPH_ELLIPSE, {2 * half + 1, 2 * half + 1});
    cv::morphologyEx(mask, mask, cv::MORPH_OPEN, disc);
    cv::morphologyEx(mask, mask, cv::MORPH_CLOSE, disc);
    std::vector<std::vector<cv::Point>> contours;
    cv::findContours(mask, contours, cv::RETR_EXTERNAL, cv::CHAIN_APPROX_NONE);
    if (contours.empty()) {
        return outline;
    }
    const auto largest = std::max_element(contours.begin(), contours.end(), [](const auto& a, const auto& b) {
        return cv::contourArea(a) < cv::contourArea(b);
    });
    std::vector<cv::Point2d> result;
    for (const auto& p : *largest) {
        result.emplace_back((p.x - margin) * scale + box.x, (p.y - margin) * scale + box.y);
    }
    return result;
}

}  // namespace stripbook::measure
