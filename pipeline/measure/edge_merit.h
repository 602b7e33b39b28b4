// How good each sample of a band is as the part's edge.
#pragma once

#include <functional>
#include <limits>
#include <opencv2/core.hpp>
#include <vector>

#include "measure/edge_band.h"

namespace stripbook::measure {

/// Of each sample of each profile of a band.
using SampleValues = std::vector<std::vector<float>>;

/// What the merit of a band's samples rests on; it need not be read from the picture again when the ground
/// turns out more restless than was thought.
struct EdgeSigns {
    SampleValues here;    ///< sharpness, grey levels per px
    SampleValues rim;     ///< the same at the wall's rim; empty profiles where no wall shows
    SampleValues inside;  ///< how much speaks for all inside the sample being the part
};

/// `odds`: the logarithm of how many times likelier a colour of the picture is the part's than the ground's.
/// `seen_through`: whether a pixel lies in one of the part's openings: no edge there is the outline's, no
/// ground there lies outside it.
EdgeSigns edge_signs(const EdgeBand& band, const std::function<float(const cv::Vec3f& levels)>& odds,
                     const std::function<bool(cv::Point2d px)>& seen_through);

/// What speaks how loudly for an edge being the part's.
struct EdgeWeights {
    double outer_counts = 0.8;    ///< an edge further out against one, in shares of its own strength
    bool hue_at_walls = false;    ///< hues that are surely the ground's, too, where a wall shows
    bool foot_must_show = false;  ///< a wall's rim counts at most twice as much as its foot
    /// The most that hues of the ground count together, in shares of a strong edge: those of a stain are the
    /// ground's at times.
    double most_against = std::numeric_limits<double>::max();
};

/// A sharp edge counts, none further out, and where a wall shows its rim as sharp; colours inside that are
/// the ground's count against. In shares of a strong edge. `ground`: grey levels per px, how sharp the
/// ground's own edges are.
SampleValues edge_merits(const EdgeSigns& signs, double ground, const EdgeWeights& weights = {});

/// Sharpness well outside the path: the ground's own, grey levels per px.
double ground_sharpness(const SampleValues& sharp, const std::vector<int>& path);

}  // namespace stripbook::measure
