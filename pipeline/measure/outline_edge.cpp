#include "measure/outline_edge.h"

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>

#include "measure/best_path.h"
#include "measure/closed_line.h"
#include "measure/dark_band.h"
#include "measure/edge_merit.h"
#include "measure/edge_profile.h"
#include "measure/face_border.h"
#include "measure/faint_bumps.h"
#include "measure/faint_edge.h"
#include "measure/hue_edge.h"
#include "measure/log_colour.h"
#include "measure/pale_shadow.h"
#include "measure/shadow_line.h"
#include "measure/sharp_corners.h"
#include "measure/soft_edge.h"

namespace stripbook::measure {

namespace {

// The place of the path in the picture's own levels, to a fraction of a pixel.
EdgePoint edge_point(const cv::Mat3b& picture, const EdgeBand& band, std::size_t i, int at,
                     const Bloom& bloom) {
    constexpr int half = 16;  // samples
    const cv::Point2d step = band.outward[i] * across_px;
    const cv::Point2d here = band.place(i, at);
    const Profile profile = profile_along(picture, here - step * half, step, 2 * half + 1);
    const double peak = peak_near(profile.slope, half);
    EdgePoint point;
    point.outward = band.outward[i];
    point.contrast = contrast_across(profile, static_cast<int>(std::lround(peak)), 1 / across_px);
    point.slope = static_cast<double>(profile.slope[static_cast<std::size_t>(std::lround(peak))]);
    // Bright outside: the edge seen lies inside the true one.
    point.px = here + point.outward * ((peak - half) * across_px + bloom.px_per_contrast * point.contrast);
    return point;
}

constexpr double toe = 24;  // grey levels, about where noise ends

// Levels by their logarithm: a dark wall against its shadow is as much of an edge as a bright face against
// the bench.
cv::Mat3b toned(const cv::Mat3b& picture, const std::vector<cv::Point2d>& rough, double margin_px) {
    cv::Mat1b table(1, 256);
    for (int v = 0; v < 256; ++v) {
        table(v) = cv::saturate_cast<uchar>(255 * std::log1p(v / toe) / std::log1p(255 / toe));
    }
    const std::vector<cv::Point2f> outline(rough.begin(), rough.end());
    const int margin = static_cast<int>(margin_px);
    cv::Rect box = cv::boundingRect(outline);
    box = cv::Rect(box.x - margin, box.y - margin, box.width + 2 * margin, box.height + 2 * margin) &
          cv::Rect({0, 0}, picture.size());
    cv::Mat3b result = picture.clone();
    cv::Mat3b part = result(box);
    cv::LUT(picture(box), table, part);
    return result;
}

cv::Vec3f untoned(const cv::Vec3f& levels) {
    constexpr auto most = 255.F;
    const auto per_level = static_cast<float>(std::log1p(255 / toe) / 255);
    cv::Vec3f result;
    for (int c = 0; c < 3; ++c) {
        result[c] = std::min(most, static_cast<float>(toe) * std::expm1(levels[c] * per_level));
    }
    return result;
}

EdgeSigns signs_in(const EdgeBand& band, const RoughPart& rough) {
    return edge_signs(
        band, [&](const cv::Vec3f& levels) { return rough.hues.of(log_colour(untoned(levels))); },
        [&](cv::Point2d px) { return is_set_at(rough.openings, px); });
}

// The path through one band.
struct Traced {
    SampleValues merit;
    std::vector<int> path;
};

Traced traced(const EdgeSigns& signs, const EdgeWeights& weights) {
    // What counts depends on how restless the ground is, which is known only outside the part.
    constexpr double first_ground = 3;
    const double ground = ground_sharpness(signs.here, best_path(edge_merits(signs, first_ground, weights)));
    Traced result{edge_merits(signs, ground, weights), {}};
    result.path = best_path(result.merit);
    return result;
}

// What beside the edge is in the part's own shadow hides it from the brightness, not from the hue.
void move_to_hue_edge(const cv::Mat3b& picture, const EdgeBand& band, const std::vector<int>& path,
                      const HueOdds& hues, OutlineEdge& edge) {
    constexpr int half = 16;  // samples
    constexpr std::size_t neighbours = 3;
    const std::size_t n = path.size();
    std::vector<std::vector<cv::Vec3f>> around;
    for (std::size_t i = 0; i < n; ++i) {
        const cv::Point2d step = band.outward[i] * across_px;
        around.push_back(
            profile_along(picture, band.place(i, path[i]) - step * half, step, 2 * half + 1).colour);
    }
    for (std::size_t i = 0; i < n; ++i) {
        std::vector<cv::Vec3f> mean(around[i].size());
        for (std::size_t k = n - neighbours; k <= n + neighbours; ++k) {
            for (std::size_t j = 0; j < mean.size(); ++j) {
                mean[j] += around[(i + k) % n][j] / static_cast<double>(2 * neighbours + 1);
            }
        }
        const auto at = end_of_part_light(mean, across_px, hues);
        if (!at || !band.rim_profiles[i].colour.empty()) {
            continue;
        }
        constexpr double least_shadow_px = 1.2;  // else the brightness tells the place better
        const cv::Point2d px = band.place(i, path[i]) + band.outward[i] * ((*at - half) * across_px);
        if ((edge.points[i].px - px).dot(band.outward[i]) > least_shadow_px) {
            edge.points[i].px = px;
            edge.points[i].told_by_hue = true;
        }
    }
}

// What is part at a rough look and stands out of the edge where the first tracing still had it: how far, and
// how clear the edge beneath it is.
void tell_left_out(const std::vector<cv::Point2d>& first_px, const RoughPart& rough, OutlineEdge& edge) {
    const auto places = places_of(edge.points);
    std::vector<cv::Point2f> traced_px(places.begin(), places.end());
    constexpr double off_px = 0.3;  // the fewer corners, the faster
    cv::approxPolyDP(traced_px, traced_px, off_px, true);
    // The edge of a thin piece is the border of the mask.
    constexpr int border = 2;
    cv::Mat1b near_part;
    cv::dilate(rough.mask, near_part, cv::Mat::ones(2 * border + 1, 2 * border + 1, CV_8U));
    std::vector<std::pair<double, cv::Point2d>> outside;
    for (const auto& px : first_px) {
        const double out = is_set_at(near_part, px) ? -cv::pointPolygonTest(traced_px, px, true) : 0;
        edge.left_out_px = std::max(edge.left_out_px, out);
        outside.emplace_back(out, px);
    }
    double sum = 0;
    int count = 0;
    for (const auto& [out, px] : outside) {
        if (out > edge.left_out_px / 2) {
            sum += edge.points[nearest_point(edge.points, px)].contrast_share;
            ++count;
        }
    }
    edge.contrast_beneath = count == 0 ? 0 : sum / count;
}

double thickest_half(const cv::Mat1b& mask) {
    cv::Mat1f depth;
    cv::distanceTransform(mask, depth, cv::DIST_L2, cv::DIST_MASK_3);
    double most = 0;
    cv::minMaxLoc(depth, nullptr, &most);
    return most;
}

// How thick what the rough look has beyond the edge is, over how thick all of it is.
double lost_share(const OutlineEdge& edge, const RoughPart& rough) {
    std::vector<cv::Point> corners;
    for (const auto& point : edge.points) {
        corners.emplace_back(small_from_photo(point.px));
    }
    cv::Mat1b within(rough.mask.size(), uchar{0});
    cv::fillPoly(within, std::vector<std::vector<cv::Point>>{corners}, cv::Scalar(255));
    cv::dilate(within, within, cv::Mat::ones(3, 3, CV_8U));  // the border's own pixels
    cv::Mat1b beyond = rough.mask.clone();
    beyond.setTo(0, within);
    return thickest_half(beyond) / std::max(1.0, thickest_half(rough.mask));
}

}  // namespace

std::vector<cv::Point2d> places_of(const std::vector<EdgePoint>& points) {
    std::vector<cv::Point2d> px;
    px.reserve(points.size());
    for (const auto& point : points) {
        px.push_back(point.px);
    }
    return px;
}

std::size_t nearest_point(const std::vector<EdgePoint>& points, cv::Point2d px) {
    const auto nearest = std::min_element(
        points.begin(), points.end(),
        [&](const EdgePoint& a, const EdgePoint& b) { return cv::norm(a.px - px) < cv::norm(b.px - px); });
    return static_cast<std::size_t>(nearest - points.begin());
}

OutlineEdge moved_aside(OutlineEdge edge, double times) {
    for (auto& point : edge.points) {
        point.px += point.outward * (times * point.aside_px);
    }
    return edge;
}

OutlineSearch::OutlineSearch(const cv::Mat3b& picture, const RoughPart& rough, const OutlineReach& reach,
                             const Bloom& bloom, const RimOfFoot& rim_of_foot)
    : picture_(picture), rough_(rough), reach_(reach), bloom_(bloom), rim_of_foot_(rim_of_foot) {
    const std::vector<cv::Point2d> outline = clockwise(rough.outline_px);
    constexpr double margin_px = 100;
    tones_ = toned(picture, outline, margin_px);
    band_ = band_around(tones_, outline, reach.inward_px, reach.outward_px, rim_of_foot);
    signs_ = signs_in(band_, rough);
}

OutlineEdge OutlineSearch::edge() const {
    std::vector<cv::Point2d> nearer;
    OutlineEdge edge = read(EdgeWeights(), nearer);
    edge.false_steps = false_steps(tones_, places_of(edge.points), edge.usual_contrast);
    tell_left_out(nearer, rough_, edge);
    edge.lost_share = lost_share(edge, rough_);
    edge.soft_share = soft_share(picture_, edge);
    if (reach_.broken_px > 0) {
        edge.dark_band_share = dark_band_share(picture_, {reach_.broken_px, rim_of_foot_}, edge.points);
    }
    return edge;
}

OutlineEdge OutlineSearch::read_again(const EdgeWeights& weights) const {
    std::vector<cv::Point2d> nearer;
    return read(weights, nearer);
}

OutlineEdge OutlineSearch::read(const EdgeWeights& weights, std::vector<cv::Point2d>& nearer) const {
    const Traced first = traced(signs_, weights);
    for (std::size_t i = 0; i < first.path.size(); ++i) {
        nearer.push_back(band_.place(i, first.path[i]));
    }
    constexpr double near_px = 10;
    const EdgeBand band = band_around(tones_, clockwise(opened_and_closed(nearer, reach_.thin_px)), near_px,
                                      near_px, rim_of_foot_);
    const Traced second = traced(signs_in(band, rough_), weights);
    OutlineEdge edge;
    constexpr int apart = 6;              // samples
    constexpr double nearly_as_well = 1;  // of a strong edge
    const auto contrasts = edge_contrasts(band, second.path);
    const auto margins = path_margins(second.merit, second.path, apart);
    for (std::size_t i = 0; i < second.path.size(); ++i) {
        edge.points.push_back(edge_point(picture_, band, i, second.path[i], bloom_));
        edge.points.back().doubtful = margins[i] < nearly_as_well;
        edge.points.back().contrast_share = contrasts.shares[i];
        edge.points.back().rim_share = contrasts.at_rim[i];
        edge.points.back().wall_shows = !band.rim_profiles[i].colour.empty();
    }
    edge.usual_contrast = contrasts.usual;
    put_faint_bumps_back(tones_, edge);
    move_to_hue_edge(picture_, band, second.path, rough_.hues, edge);
    sharpen_corners(tones_, edge.points);
    if (reach_.broken_px > 0) {
        mark_face_border(picture_, reach_.broken_px, edge.points);
        mark_shadow_line(picture_, {reach_.broken_px, rim_of_foot_}, edge.points);
        if (edge.usual_contrast >= clear_of_stains) {
            mark_pale_shadow(picture_, {reach_.broken_px, rim_of_foot_}, edge.points);
        }
    }
    return edge;
}

}  // namespace stripbook::measure
