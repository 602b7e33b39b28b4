#include "measure/ragged_edge.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "measure/closed_runs.h"

namespace stripbook::measure {

namespace {

constexpr int neighbours = 10;  // points on each side, about 15 px
constexpr int window = 2 * neighbours + 1;
constexpr std::size_t least_points = window + window;
constexpr int coefficients = 3;  // of a parabola
constexpr double ragged_px = 1;

// Takes the parabola out of a window's offsets: what is left of them is this matrix times them.
cv::Mat1d left_of_parabola() {
    cv::Mat1d powers(window, coefficients);
    for (int i = 0; i < window; ++i) {
        const double at = static_cast<double>(i - neighbours) / neighbours;
        powers(i, 0) = 1;
        powers(i, 1) = at;
        powers(i, 2) = at * at;
    }
    cv::Mat1d inverse;
    cv::invert(powers, inverse, cv::DECOMP_SVD);
    cv::Mat1d left;
    cv::subtract(cv::Mat1d::eye(window, window), powers * inverse, left);
    return left;
}

// Across the chord from the window's first point to its last, px.
cv::Mat1d offsets_around(const std::vector<cv::Point2d>& closed, std::size_t middle) {
    const std::size_t n = closed.size();
    const std::size_t first = (middle + n - neighbours) % n;
    const cv::Point2d chord = closed[(first + window - 1) % n] - closed[first];
    const cv::Point2d across = cv::Point2d(-chord.y, chord.x) / std::max(1e-9, cv::norm(chord));
    cv::Mat1d offsets(window, 1);
    for (int i = 0; i < window; ++i) {
        offsets(i) = (closed[(first + static_cast<std::size_t>(i)) % n] - closed[first]).dot(across);
    }
    return offsets;
}

}  // namespace

std::vector<bool> ragged_points(const OutlineEdge& edge) {
    static const cv::Mat1d left = left_of_parabola();
    const auto closed = places_of(edge.points);
    std::vector<bool> ragged(closed.size(), false);
    for (std::size_t i = 0; i < closed.size() && closed.size() >= least_points; ++i) {
        const double scatter = cv::norm(left * offsets_around(closed, i));
        ragged[i] = edge.points[i].aside_px >= 0 && scatter / std::sqrt(window - coefficients) > ragged_px;
    }
    return ragged;
}

double ragged_share(const OutlineEdge& edge) {
    constexpr std::size_t longest_gap = 8;
    constexpr std::size_t fewest = 30;  // a single step makes a window's length of them
    std::size_t count = 0;
    for (const auto& stretch : runs_around(ragged_points(edge), longest_gap + 1)) {
        count += stretch.count >= fewest ? stretch.count : 0;
    }
    return static_cast<double>(count) / static_cast<double>(std::max<std::size_t>(1, edge.points.size()));
}

}  // namespace stripbook::measure
