#include "measure/soft_edge.h"

#include <algorithm>
#include <cmath>

#include "measure/faint_edge.h"
#include "measure/greys_across.h"

namespace stripbook::measure {

namespace {

constexpr int neighbours = 8;
constexpr double step_px = 2;
constexpr int reach = 12;  // samples on each side

bool is_soft(const std::vector<double>& greys) {
    constexpr double plain = 12;     // grey levels; less is no border at all
    constexpr double a_step = 0.28;  // of the whole change
    constexpr int near = 4;          // samples: where the outline's edge would be
    constexpr int ends = 3;          // samples at each end, every other one
    const auto grey = [&](int off) {
        const int sample = reach + off;
        return greys[static_cast<std::size_t>(sample)];
    };
    double whole = 0;
    for (int k = 0; k < ends; ++k) {
        whole += (grey(reach - 2 * k) - grey(2 * k - reach)) / ends;
    }
    double steepest = 0;
    for (int off = -near + 1; off < near; ++off) {
        steepest = std::max(steepest, std::abs(grey(off + 1) - grey(off - 1)));
    }
    return std::abs(whole) > plain && steepest < a_step * std::abs(whole);
}

}  // namespace

double soft_share(const cv::Mat3b& picture, const OutlineEdge& edge) {
    const auto& points = edge.points;
    if (points.size() <= 2 * neighbours + 1 || edge.usual_contrast >= plain_contrast) {
        return 0;
    }
    const auto greys = greys_across(picture, steadied(points, neighbours),
                                    {-reach * step_px, step_px, 2 * reach + 1}, neighbours);
    const auto soft = std::count_if(greys.begin(), greys.end(), is_soft);
    return static_cast<double>(soft) / static_cast<double>(points.size());
}

}  // namespace stripbook::measure
