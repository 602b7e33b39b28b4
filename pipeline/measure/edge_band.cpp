#include "measure/edge_band.h"

#include <algorithm>
#include <cmath>

#include "measure/closed_line.h"

namespace stripbook::measure {

EdgeBand band_around(const cv::Mat3b& picture, const std::vector<cv::Point2d>& rough_px, double inward_px,
                     double outward_px, const RimOfFoot& rim_of_foot) {
    constexpr double along_px = 1.5;  // between profiles
    EdgeBand band;
    const auto count = static_cast<std::size_t>(std::max(32.0, wrapped_length(rough_px) / along_px));
    const auto even = evenly_spaced(rough_px, count);
    constexpr int round_place = 4;
    constexpr int round_normal = 5;
    band.middle = rounded_off(even, round_place);
    const auto smooth = rounded_off(even, round_normal);
    band.inner = static_cast<int>(std::ceil(inward_px / across_px));
    const int count_across = band.inner + 1 + static_cast<int>(std::ceil(outward_px / across_px));
    const std::size_t n = band.middle.size();
    for (std::size_t i = 0; i < n; ++i) {
        const cv::Point2d along = smooth[(i + 3) % n] - smooth[(i + n - 3) % n];
        const double length = std::max(1e-9, cv::norm(along));
        band.outward.emplace_back(along.y / length, -along.x / length);
        const cv::Point2d from = band.middle[i] - band.outward[i] * (band.inner * across_px);
        const cv::Point2d step = band.outward[i] * across_px;
        band.profiles.push_back(profile_along(picture, from, step, count_across));
        constexpr double wall_shows_px = 2.5;  // else rim and foot are one edge
        const cv::Point2d to_rim = rim_of_foot ? rim_of_foot(band.middle[i]) - band.middle[i] : cv::Point2d();
        const bool wall = to_rim.dot(band.outward[i]) < -wall_shows_px;
        band.rim_profiles.push_back(wall ? profile_along(picture, from + to_rim, step, count_across)
                                         : Profile());
    }
    return band;
}

std::vector<cv::Vec3f> averaged_colours(const std::vector<Profile>& profiles, std::size_t i,
                                        std::size_t neighbours) {
    const std::size_t n = profiles.size();
    std::vector<cv::Vec3f> sum(profiles[i].colour.size());
    double count = 0;
    for (std::size_t k = n - neighbours; k <= n + neighbours; ++k) {
        const auto& colour = profiles[(i + k) % n].colour;
        for (std::size_t j = 0; j < std::min(sum.size(), colour.size()); ++j) {
            sum[j] += colour[j];
        }
        count += colour.empty() ? 0 : 1;
    }
    for (auto& colour : sum) {
        colour /= count;
    }
    return sum;
}

}  // namespace stripbook::measure
