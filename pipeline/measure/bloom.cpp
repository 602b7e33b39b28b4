#include "measure/bloom.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

#include "measure/edge_profile.h"
#include "measure/quantile.h"
#include "measure/square_sides.h"

namespace stripbook::measure {

namespace {

constexpr double step_px = 0.25;
constexpr double reach_px = 6;

// Shift of one place on a side into the black, px over contrast; nothing where the edge is weak or hidden.
std::optional<double> shift_at(const cv::Mat3b& picture, cv::Point2d printed_px, cv::Point2d into_black) {
    const int half = static_cast<int>(reach_px / step_px);
    const Profile profile =
        profile_along(picture, printed_px - into_black * reach_px, into_black * step_px, 2 * half + 1);
    const auto strongest = std::max_element(profile.slope.begin(), profile.slope.end());
    const int at = static_cast<int>(strongest - profile.slope.begin());
    const double contrast = -contrast_across(profile, at, 1 / step_px);
    constexpr double least_contrast = 0.5;
    constexpr double most_shift_px = 2;
    const double shift = (peak_near(profile.slope, at) - half) * step_px;
    if (contrast < least_contrast || std::abs(shift) > most_shift_px) {
        return std::nullopt;
    }
    return shift / contrast;
}

// The median of one side; nothing when less than half of it is seen.
std::optional<double> shift_of(const cv::Mat3b& picture, const std::vector<SidePlace>& side) {
    std::vector<double> here;
    for (const auto& place : side) {
        if (const auto shift = shift_at(picture, place.px, place.into_black)) {
            here.push_back(*shift);
        }
    }
    if (here.size() <= places_on_side / 2 + 1) {
        return std::nullopt;
    }
    return middle_value(std::move(here));
}

}  // namespace

Bloom bloom_of(const cv::Mat3b& picture, const scale::Plane& plane) {
    std::vector<double> shifts;
    for (const auto& side : square_sides(plane, picture.size(), 0)) {
        if (const auto shift = shift_of(picture, side)) {
            shifts.push_back(*shift);
        }
    }
    Bloom bloom;
    constexpr std::size_t fewest = 4;
    if (shifts.size() < fewest) {
        return bloom;
    }
    std::sort(shifts.begin(), shifts.end());
    const double median = shifts[shifts.size() / 2];
    const double spread = (shifts[shifts.size() * 3 / 4] - shifts[shifts.size() / 4]) / 1.35;
    constexpr double model_share = 0.3;  // the bend is first order, and cameras bend differently
    bloom.sides = static_cast<int>(shifts.size());
    bloom.px_per_contrast = median;
    bloom.u_px_per_contrast =
        std::hypot(spread / std::sqrt(static_cast<double>(shifts.size())), model_share * median);
    return bloom;
}

}  // namespace stripbook::measure
