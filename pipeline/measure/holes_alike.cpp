#include "measure/holes_alike.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <opencv2/core.hpp>

namespace stripbook::measure {

namespace {

constexpr double odd_mm = 0.15;  // of the radius

constexpr double nearly = 0.2;  // of a radius: as one of them may come out

// The radii that differ from one of them by less than a share of it, itself among them; smallest first.
std::vector<double> alike(const std::vector<double>& radii, double one, double share = nearly) {
    std::vector<double> near;
    std::copy_if(radii.begin(), radii.end(), std::back_inserter(near),
                 [&](double other) { return std::abs(other - one) < share * one; });
    std::sort(near.begin(), near.end());
    return near;
}

std::vector<double> radii_alike(const std::vector<HoleEdge>& holes, const HoleEdge& one) {
    std::vector<double> radii;
    radii.reserve(holes.size());
    for (const auto& hole : holes) {
        radii.push_back(hole.circle_mm.radius);
    }
    return alike(radii, one.circle_mm.radius);
}

// The hole stays as it was when there is no rim of about that radius.
void look_again_at(double radius_mm, const FaceView& view, HoleLooks looks, HoleEdge& hole) {
    looks.slack_mm = 0.2;
    const auto again = hole_edge(view, {hole.circle_mm.centre, radius_mm, 0}, looks);
    if (again && is_hole(*again, view.px_per_mm)) {
        const HoleEdge before = hole;
        hole = *again;
        hole.second_mm = before.second_mm;
        hole.middles_apart_mm = before.middles_apart_mm;
    }
}

// Two that are nearer to each other than drills of neighbouring sizes are one size, most likely: of ten pairs
// in made shots (seeds 33001 to 56001, not all) that came out 0.3 to 0.55 mm apart nine were.
double scatter_of_pair(const std::vector<double>& radii) {
    constexpr double most_mm = 0.275;
    constexpr double most_share = 0.06;
    if (radii.size() != 2) {
        return 0;
    }
    const double apart = radii[1] - radii[0];
    return apart < std::min(most_mm, most_share * radii[1]) ? apart / std::sqrt(2.0) : 0;
}

}  // namespace

void look_again_among_alike(const FaceView& view, const HoleLooks& looks, std::vector<HoleEdge>& holes) {
    std::vector<HoleEdge> first = holes;
    for (auto& hole : holes) {
        const auto radii = radii_alike(first, hole);
        const double narrower = radii[(radii.size() - 1) / 4];
        if (hole.circle_mm.radius - narrower > odd_mm) {
            look_again_at(narrower, view, looks, hole);
        }
    }
    constexpr std::size_t fewest = 4;
    first = holes;
    for (auto& hole : holes) {
        const auto radii = radii_alike(first, hole);
        const double middle = radii[radii.size() / 2];
        if (radii.size() >= fewest && middle - hole.circle_mm.radius > odd_mm) {
            look_again_at(middle, view, looks, hole);
        }
    }
}

void take_reading_of_alikes(std::vector<HoleEdge>& holes) {
    constexpr std::size_t fewest = 3;
    const std::vector<HoleEdge> first = holes;
    for (auto& hole : holes) {
        const auto radii = radii_alike(first, hole);
        const auto off = [&](const Circle& c) { return std::abs(c.radius - radii[radii.size() / 2]); };
        if (radii.size() < fewest) {
            continue;
        }
        if (off(hole.second_mm) < odd_mm && off(hole.circle_mm) > odd_mm) {
            hole.circle_mm = hole.second_mm;
            hole.centre_mm = hole.second_mm.centre;
        } else if (off(hole.circle_mm) < odd_mm) {
            hole.second_mm = hole.circle_mm;
        }
    }
}

double unlike_those_alike(const std::vector<double>& radii_mm, double one_mm) {
    constexpr int fewest = 3;
    constexpr double clearly_mm = 0.2;
    const auto near = alike(radii_mm, one_mm);
    const double middle = near[near.size() / 2];
    const auto agreeing =
        std::count_if(near.begin(), near.end(), [&](double r) { return std::abs(r - middle) < odd_mm; });
    const double off = one_mm - middle;
    return agreeing >= fewest && std::abs(off) > clearly_mm ? off : 0;
}

double scatter_of_alike(const std::vector<double>& radii_mm, double one_mm) {
    constexpr double share = 0.15;
    constexpr std::size_t fewest = 3;
    const auto near = alike(radii_mm, one_mm, share);
    if (near.size() < fewest) {
        return scatter_of_pair(near);
    }
    cv::Scalar mean;
    cv::Scalar deviation;
    cv::meanStdDev(near, mean, deviation);
    const auto count = static_cast<double>(near.size());
    return deviation[0] * std::sqrt(count / (count - 1));
}

}  // namespace stripbook::measure
