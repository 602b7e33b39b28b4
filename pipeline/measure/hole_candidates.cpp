#include "measure/hole_candidates.h"

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>

#include "measure/hole_edge.h"

namespace stripbook::measure {

namespace {

constexpr double roundest = 0.72;  // area of a candidate over its enclosing circle's

using Contour = std::vector<cv::Point>;

void add_blobs(const cv::Mat1b& mask, const FaceView& view, double shrunk, std::vector<Circle>& candidates) {
    std::vector<Contour> contours;
    cv::findContours(mask, contours, cv::RETR_EXTERNAL, cv::CHAIN_APPROX_NONE);
    for (const auto& contour : contours) {
        const double area = cv::contourArea(contour);
        const cv::Rect box = cv::boundingRect(contour);
        const double least_radius = std::max(box.width, box.height) / 2.0 - 1;
        if (area < roundest * CV_PI * least_radius * least_radius) {
            continue;  // spares most the enclosing circle, which takes long
        }
        cv::Point2f centre;
        float radius = 0;
        cv::minEnclosingCircle(contour, centre, radius);
        const double diameter_mm = 2 * static_cast<double>(radius) * shrunk / view.px_per_mm;
        if (diameter_mm < smallest_hole_mm ||
            area < roundest * CV_PI * static_cast<double>(radius * radius)) {
            continue;
        }
        const double mean_radius = std::sqrt(area / CV_PI);
        candidates.push_back(
            {view.mm_from_view(cv::Point2d(centre) * shrunk), mean_radius * shrunk / view.px_per_mm, 0});
    }
}

// Dark and bright blobs at many thresholds inside the part.
std::vector<Circle> candidates_by_brightness(const FaceView& view,
                                             const std::vector<cv::Point2d>& outline_mm) {
    constexpr double shrunk = 2;
    cv::Mat1b grey;
    cv::cvtColor(view.picture, grey, cv::COLOR_BGR2GRAY);
    cv::resize(grey, grey, {}, 1 / shrunk, 1 / shrunk, cv::INTER_AREA);
    cv::GaussianBlur(grey, grey, {}, 1);
    cv::Mat1b inside(grey.size(), uchar{0});
    Contour outline;
    for (const auto& p : outline_mm) {
        outline.emplace_back(view.view_from_mm(p) / shrunk);
    }
    cv::fillPoly(inside, std::vector<Contour>{outline}, cv::Scalar(255));
    constexpr int rim = 4;
    cv::erode(inside, inside, cv::Mat::ones(2 * rim + 1, 2 * rim + 1, CV_8U));
    std::vector<Circle> candidates;
    constexpr int level_step = 10;
    for (int level = level_step; level < 250; level += level_step) {
        cv::Mat1b dark;
        cv::Mat1b bright;
        cv::compare(grey, level, dark, cv::CMP_LT);
        cv::compare(grey, level, bright, cv::CMP_GT);
        dark &= inside;
        bright &= inside;
        add_blobs(dark, view, shrunk, candidates);
        add_blobs(bright, view, shrunk, candidates);
    }
    return candidates;
}

// Round edges (Hough transform on the gradient): holes whose inside is half lit are no blob.
void add_round_edges(const FaceView& view, double widest_mm, std::vector<Circle>& candidates) {
    constexpr double px_per_mm = 3;
    const double shrunk = std::max(1.0, view.px_per_mm / px_per_mm);
    cv::Mat1b grey;
    cv::cvtColor(view.picture, grey, cv::COLOR_BGR2GRAY);
    cv::resize(grey, grey, {}, 1 / shrunk, 1 / shrunk, cv::INTER_AREA);
    cv::GaussianBlur(grey, grey, {}, 1);
    const double mm = view.px_per_mm / shrunk;
    std::vector<cv::Vec3f> circles;
    constexpr double strong_gradient = 120;
    constexpr double perfect = 0.6;
    cv::HoughCircles(grey, circles, cv::HOUGH_GRADIENT_ALT, 1, 4 * mm, strong_gradient, perfect,
                     static_cast<int>(smallest_hole_mm / 2 * mm), static_cast<int>(widest_mm / 2 * mm));
    for (const auto& c : circles) {
        candidates.push_back(
            {view.mm_from_view(cv::Point2d(static_cast<double>(c[0]), static_cast<double>(c[1])) * shrunk),
             static_cast<double>(c[2]) * shrunk / view.px_per_mm, 0});
    }
}

bool same_place(const Circle& a, const Circle& b) {
    const double larger = std::max(a.radius, b.radius);
    const double smaller = std::min(a.radius, b.radius);
    return cv::norm(a.centre - b.centre) < 0.5 * larger && larger < 1.5 * smaller;
}

// One candidate a place: the one in the middle of its likes by size.
std::vector<Circle> one_a_place(std::vector<Circle> candidates) {
    std::sort(candidates.begin(), candidates.end(),
              [](const auto& a, const auto& b) { return a.radius > b.radius; });
    std::vector<std::vector<Circle>> groups;
    for (const auto& c : candidates) {
        const auto group = std::find_if(groups.begin(), groups.end(),
                                        [&](const auto& g) { return same_place(g.front(), c); });
        if (group == groups.end()) {
            groups.push_back({c});
        } else {
            group->push_back(c);
        }
    }
    std::vector<Circle> chosen;
    chosen.reserve(groups.size());
    for (const auto& group : groups) {
        chosen.push_back(group[group.size() / 3]);
    }
    return chosen;
}

void add_openings(const std::vector<std::vector<cv::Point2d>>& openings_mm, std::vector<Circle>& candidates) {
    for (const auto& opening : openings_mm) {
        const std::vector<cv::Point2f> points(opening.begin(), opening.end());
        cv::Point2f centre;
        float radius = 0;
        cv::minEnclosingCircle(points, centre, radius);
        if (2 * static_cast<double>(radius) >= smallest_hole_mm) {
            candidates.push_back({centre, static_cast<double>(radius), 0});
        }
    }
}

}  // namespace

std::vector<Circle> hole_candidates(const FaceView& view, const std::vector<cv::Point2d>& outline_mm,
                                    const std::vector<std::vector<cv::Point2d>>& openings_mm) {
    std::vector<Circle> candidates = candidates_by_brightness(view, outline_mm);
    const double side_mm = std::max(view.picture.cols, view.picture.rows) / view.px_per_mm;
    constexpr double widest = 0.9;
    add_round_edges(view, widest * side_mm, candidates);
    add_openings(openings_mm, candidates);
    return one_a_place(std::move(candidates));
}

}  // namespace stripbook::measure
