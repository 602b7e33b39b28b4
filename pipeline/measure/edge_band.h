// A band around a rough outline, in profiles across it.
#pragma once

#include <functional>
#include <opencv2/core.hpp>
#include <vector>

#include "measure/edge_profile.h"

namespace stripbook::measure {

/// Where the picture shows the rim of a wall whose foot it shows at this pixel. Empty: the part's height is
/// not known.
using RimOfFoot = std::function<cv::Point2d(cv::Point2d foot_px)>;

inline constexpr double across_px = 0.5;  ///< between samples of a profile

struct EdgeBand {
    std::vector<cv::Point2d> middle;   ///< closed, clockwise as seen, about 1.5 px apart
    std::vector<cv::Point2d> outward;  ///< unit vectors
    std::vector<Profile> profiles;     ///< from inside to outside
    /// The same, moved from a wall's foot to its rim; empty where no wall shows.
    std::vector<Profile> rim_profiles;
    int inner = 0;  ///< samples inside the middle

    /// The pixel of a sample of profile `i`.
    [[nodiscard]] cv::Point2d place(std::size_t i, int sample) const {
        return middle[i] + outward[i] * (across_px * (sample - inner));
    }
};

/// `rough_px`: closed, clockwise as seen. The band reaches so many pixels inside and outside it.
EdgeBand band_around(const cv::Mat3b& picture, const std::vector<cv::Point2d>& rough_px, double inward_px,
                     double outward_px, const RimOfFoot& rim_of_foot);

/// The colours of a profile and its neighbours along the outline, averaged: noise goes, the edge stays.
std::vector<cv::Vec3f> averaged_colours(const std::vector<Profile>& profiles, std::size_t i,
                                        std::size_t neighbours);

}  // namespace stripbook::measure
