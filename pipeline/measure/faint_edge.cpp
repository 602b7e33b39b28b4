#include "measure/faint_edge.h"

#include <algorithm>
#include <iterator>

#include "measure/quantile.h"

namespace stripbook::measure {

namespace {

constexpr std::size_t neighbours = 8;  // profiles on each side: noise and a shadow's grain go
constexpr int nearest = 3;             // samples from the path: clear of a sharp edge's blur
constexpr int farthest = 6;

// How much the colours on both sides of the path differ around place `i`, grey levels.
double contrast_at(const EdgeBand& band, const std::vector<int>& path, std::size_t i) {
    const std::size_t n = path.size();
    cv::Vec3d difference;
    int count = 0;
    for (std::size_t k = n - neighbours; k <= n + neighbours; ++k) {
        const std::size_t place = (i + k) % n;
        const auto& colour = band.profiles[place].colour;
        for (int off = nearest; off <= farthest; ++off) {
            const int inside = path[place] - off;
            const int outside = path[place] + off;
            if (inside >= 0 && outside < static_cast<int>(colour.size())) {
                difference += cv::Vec3d(colour[static_cast<std::size_t>(outside)] -
                                        colour[static_cast<std::size_t>(inside)]);
                ++count;
            }
        }
    }
    return count == 0 ? 0 : cv::norm(difference) / count;
}

}  // namespace

std::vector<double> edge_contrasts(const EdgeBand& band, const std::vector<int>& path) {
    std::vector<double> contrasts(path.size(), 1);
    if (path.size() <= neighbours) {
        return contrasts;
    }
    for (std::size_t i = 0; i < path.size(); ++i) {
        contrasts[i] = contrast_at(band, path, i);
    }
    constexpr double plain = 40;  // grey levels, by their logarithm (outline_edge.cpp)
    const double usual = middle_value(contrasts);
    for (auto& contrast : contrasts) {
        contrast = usual < plain ? 1 : contrast / usual;
    }
    return contrasts;
}

double faint_share(const std::vector<EdgePoint>& closed) {
    constexpr double faint = 0.1;
    const auto below = std::count_if(closed.begin(), closed.end(),
                                     [](const EdgePoint& point) { return point.contrast_share < faint; });
    return closed.empty() ? 0 : static_cast<double>(below) / static_cast<double>(closed.size());
}

std::vector<EdgePoint> without_faint(const std::vector<EdgePoint>& closed) {
    constexpr double nearly_faint = 0.15;
    std::vector<EdgePoint> clear;
    std::copy_if(closed.begin(), closed.end(), std::back_inserter(clear),
                 [](const EdgePoint& point) { return point.contrast_share >= nearly_faint; });
    return clear;
}

}  // namespace stripbook::measure
