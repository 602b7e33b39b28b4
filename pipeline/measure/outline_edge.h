// From a rough outline to the edge itself.
#pragma once

#include <opencv2/core.hpp>
#include <vector>

#include "measure/bloom.h"
#include "measure/edge_band.h"
#include "measure/edge_merit.h"
#include "measure/false_steps.h"
#include "measure/find_part.h"

namespace stripbook::measure {

struct EdgePoint {
    cv::Point2d px;             ///< blooming taken off
    cv::Point2d outward;        ///< unit vector in the picture, away from the part
    double slope = 0;           ///< grey levels per px
    double contrast = 0;        ///< as contrast_across, positive when the outside is brighter
    double contrast_share = 1;  ///< of the usual contrast, as EdgeContrasts (faint_edge.h)
    double rim_share = 0;       ///< the same where a wall's rim would be whose foot this is; 0: no wall
    bool doubtful = false;      ///< another way past here would have done nearly as well
    bool wall_shows = false;    ///< the part turns a wall to the camera here
    bool told_by_hue = false;   ///< moved to where the hue changes
    /// How far outward of the point the part's edge is taken to lie, negative: inward; it may lie at the
    /// point or twice as far. A broken edge in shadow lies between (face_border.h), or a shadow
    /// (shadow_line.h).
    double aside_px = 0;
};

std::vector<cv::Point2d> places_of(const std::vector<EdgePoint>& points);

/// Which of some points, one or more, lies nearest to a pixel.
std::size_t nearest_point(const std::vector<EdgePoint>& points, cv::Point2d px);

/// Usual contrast, grey levels, above which an outline is clearer than stains and rust on a ground are.
inline constexpr double clear_of_stains = 55;

struct OutlineEdge {
    std::vector<EdgePoint> points;  ///< closed, evenly spaced, about 1.5 px apart
    std::vector<FalseStep> false_steps;
    double usual_contrast = 0;  ///< as EdgeContrasts
    /// How thick a piece of the rough part lies outside, over how thick the part is. A shadow is a narrow
    /// band, an end cut off is not.
    double lost_share = 0;
    double soft_share = 0;       ///< as soft_edge.h
    double dark_band_share = 0;  ///< as dark_band.h; 0 where the part's height is not known
    double left_out_px = 0;      ///< how far what is thinner than the reach's `thin_px` stood out
    /// The mean contrast share of the edge beneath it: near 0 where it goes on into the part.
    double contrast_beneath = 0;
};

/// Its points moved by so many times EdgePoint::aside_px.
OutlineEdge moved_aside(OutlineEdge edge, double times);

/// How far the edge may lie from the rough outline. A shadow belongs to the rough outline, so it may lie far
/// inside.
struct OutlineReach {
    double inward_px = 24;
    double outward_px = 12;
    double thin_px = 12;   ///< half the thickness of what is no part of the outline: spikes, loops
    double broken_px = 0;  ///< how wide a broken edge may be; 0: not known, none is looked for
};

/// The closed path near the rough outline that follows the outermost strong edge: dynamic programming over
/// profiles across the rough outline. Where the part turns a wall to the camera, that edge is the wall's
/// foot, and the wall's rim must be an edge too, as far inside as the height has it. What is seen through the
/// part is neither edge nor ground to it.
class OutlineSearch {
  public:
    /// Keeps `picture` and `rough` by reference.
    OutlineSearch(const cv::Mat3b& picture, const RoughPart& rough, const OutlineReach& reach,
                  const Bloom& bloom, const RimOfFoot& rim_of_foot);

    [[nodiscard]] OutlineEdge edge() const;
    /// With other weights, and without false steps, what was lost, what is soft and what was left out.
    [[nodiscard]] OutlineEdge read_again(const EdgeWeights& weights) const;

  private:
    // `nearer`: the first tracing, which the second one starts from.
    OutlineEdge read(const EdgeWeights& weights, std::vector<cv::Point2d>& nearer) const;

    const cv::Mat3b& picture_;
    const RoughPart& rough_;
    OutlineReach reach_;
    Bloom bloom_;
    RimOfFoot rim_of_foot_;
    cv::Mat3b tones_;
    EdgeBand band_;  // around the rough outline
    EdgeSigns signs_;
};

}  // namespace stripbook::measure
