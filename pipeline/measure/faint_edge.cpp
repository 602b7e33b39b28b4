#include "measure/faint_edge.h"

#include <algorithm>
#include <iterator>

#include "measure/quantile.h"

namespace stripbook::measure {

namespace {

constexpr std::size_t neighbours = 8;  // profiles on each side: noise and a shadow's grain go
constexpr int nearest = 3;             // samples from the path: clear of a sharp edge's blur
constexpr int farthest = 6;

// How much the colours on both sides of the path differ around place `i`, grey levels by their logarithm
// (outline_edge.cpp).
double contrast_at(const std::vector<Profile>& profiles, const std::vector<int>& path, std::size_t i) {
    const std::size_t n = path.size();
    cv::Vec3d difference;
    int count = 0;
    for (std::size_t k = n - neighbours; k <= n + neighbours; ++k) {
        const std::size_t place = (i + k) % n;
        const auto& colour = profiles[place].colour;
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

EdgeContrasts edge_contrasts(const EdgeBand& band, const std::vector<int>& path) {
    EdgeContrasts contrasts{0, std::vector<double>(path.size(), 1), std::vector<double>(path.size(), 0)};
    if (path.size() <= neighbours) {
        return contrasts;
    }
    for (std::size_t i = 0; i < path.size(); ++i) {
        contrasts.shares[i] = contrast_at(band.profiles, path, i);
    }
    constexpr double least = 1;  // grey level
    contrasts.usual = middle_value(contrasts.shares);
    for (std::size_t i = 0; i < path.size(); ++i) {
        contrasts.shares[i] /= std::max(least, contrasts.usual);
        contrasts.at_rim[i] = contrast_at(band.rim_profiles, path, i) / std::max(least, contrasts.usual);
    }
    return contrasts;
}

double faint_share(const OutlineEdge& edge) {
    constexpr double faint = 0.1;
    // Stains take the contrast of bare steel away here and there. Of its outlines that this withheld at 40 to
    // 55 (fourteen made sets), ten of eleven were right; against five of them other readings still speak.
    if (edge.points.empty() || edge.usual_contrast < clear_of_stains) {
        return 0;
    }
    const auto below = std::count_if(edge.points.begin(), edge.points.end(),
                                     [](const EdgePoint& point) { return point.contrast_share < faint; });
    return static_cast<double>(below) / static_cast<double>(edge.points.size());
}

std::vector<bool> faint_stretches(const OutlineEdge& edge) {
    constexpr double clear_of_noise = 20;
    constexpr double nearly_faint = 0.15;
    constexpr double clear = 0.3;
    const auto& points = edge.points;
    const std::size_t n = points.size();
    std::vector<bool> faint(n, false);
    if (edge.usual_contrast < clear_of_noise) {
        return faint;
    }
    const double ends = edge.usual_contrast < plain_contrast ? nearly_faint : clear;
    for (std::size_t i = 0; i < n; ++i) {
        if (points[i].contrast_share >= nearly_faint || faint[i]) {
            continue;
        }
        for (std::size_t k = i; !faint[k % n] && points[k % n].contrast_share < ends; ++k) {
            faint[k % n] = true;
        }
        for (std::size_t k = i + n - 1; !faint[k % n] && points[k % n].contrast_share < ends; --k) {
            faint[k % n] = true;
        }
    }
    return faint;
}

std::vector<EdgePoint> without_faint(const OutlineEdge& edge) {
    const auto faint = faint_stretches(edge);
    std::vector<EdgePoint> kept;
    for (std::size_t i = 0; i < edge.points.size(); ++i) {
        if (!faint[i]) {
            kept.push_back(edge.points[i]);
        }
    }
    return kept;
}

}  // namespace stripbook::measure
