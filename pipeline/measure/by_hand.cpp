#include "measure/by_hand.h"

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>

#include "measure/circle_fit.h"
#include "measure/edge_profile.h"
#include "measure/part_dimensions.h"
#include "measure/plane_uncertainty.h"

namespace stripbook::measure {

namespace {

// A point put by hand, and one on an edge that was snapped to, px.
constexpr double u_by_hand_px = 1;
constexpr double u_snapped_px = 0.35;

cv::Mat3b in_colour(const cv::Mat& grey) {
    if (grey.type() == CV_8UC3) {
        return grey;
    }
    cv::Mat3b colour;
    cv::cvtColor(grey, colour, cv::COLOR_GRAY2BGR);
    return colour;
}

// The strongest edge in any direction within reach, nearer ones preferred; the point itself where there is
// none.
cv::Point2d snapped(const cv::Mat3b& picture, cv::Point2d at, double reach_px) {
    constexpr int directions = 16;
    constexpr double step_px = 0.25;
    constexpr double weakest_slope = 4;  // grey levels per px
    const int half = static_cast<int>(reach_px / step_px);
    cv::Point2d best = at;
    double most = 0;
    for (int d = 0; d < directions; ++d) {
        const double turn = CV_PI * d / directions;
        const cv::Point2d along(std::cos(turn), std::sin(turn));
        const Profile profile = profile_along(picture, at - along * reach_px, along * step_px, 2 * half + 1);
        for (int i = 1; i + 1 < 2 * half; ++i) {
            const double off_px = std::abs(i - half) * step_px;
            const double slope = static_cast<double>(profile.slope[static_cast<std::size_t>(i)]);
            const double worth = slope / (1 + off_px / reach_px);
            if (slope > weakest_slope && worth > most) {
                most = worth;
                best = at + along * ((peak_near(profile.slope, i) - half) * step_px);
            }
        }
    }
    return best;
}

ByHand refused(std::string reason) {
    return {std::nullopt, std::move(reason), {}};
}

std::vector<cv::Point2d> chosen_points(const cv::Mat& grey, const std::vector<cv::Point2d>& points,
                                       const ByHandOptions& options) {
    if (!options.snap) {
        return points;
    }
    const cv::Mat3b picture = in_colour(grey);
    std::vector<cv::Point2d> result;
    for (const auto& p : points) {
        result.push_back(snapped(picture, p, options.snap_reach_px));
    }
    return result;
}

bool in_picture(const cv::Mat& grey, const std::vector<cv::Point2d>& points) {
    return std::all_of(points.begin(), points.end(), [&](const auto& p) {
        return p.x >= -0.5 && p.y >= -0.5 && p.x < grey.cols - 0.5 && p.y < grey.rows - 0.5;
    });
}

FaceHeight height_of(const ByHandOptions& options) {
    PartOptions part;
    part.face_height_mm = options.face_height_mm;
    part.u_face_height_mm = options.u_face_height_mm;
    constexpr bool inside_frame = true;
    FaceHeight height = face_height(part, inside_frame);
    height.heights.face += height.chamfer_mm;  // the person says where the edge is
    return height;
}

// The dimension and its budget; `size` gives one value of the points in the plane.
template <typename Size>
ByHand measured(const cv::Mat& grey, const scale::Plane& plane, const std::vector<cv::Point2d>& points,
                const ByHandOptions& options, DimensionKind kind, double share_of_point, const Size& size) {
    if (!in_picture(grey, points)) {
        return refused("a point lies outside the picture: give pixels of the picture as seen upright");
    }
    ByHand result;
    result.points_px = chosen_points(grey, points, options);
    const SizeFunction sizes = [&](const scale::Plane& p, const Heights& h) {
        std::vector<cv::Point2d> mm;
        for (const auto& px : result.points_px) {
            mm.push_back(scale::plane_from_pixel(p, px, h.face).value_or(cv::Point2d()));
        }
        return std::vector<double>{size(mm)};
    };
    const FaceHeight height = height_of(options);
    Dimension d;
    d.number = 1;
    d.kind = kind;
    d.value = sizes(plane, height.heights).front();
    if (!(d.value > 0)) {
        return refused("the points make no size: give points apart from each other, not on one line");
    }
    const PlaneShares shares = plane_shares(sizes, plane, height.heights, height.u_face_mm).front();
    const double px_per_mm = plane.lens.focal_px / scale::standpoint(plane).height_mm;
    const double u_point_px = options.snap ? u_snapped_px : u_by_hand_px;
    d.budget.components = {{"corners", shares.corners, 0},
                           {"lens", shares.lens, 0},
                           {"sheet correction", d.value * plane.u_sheet_relative, 0},
                           {"height", shares.height, 0},
                           {"points", share_of_point * u_point_px / px_per_mm, 0}};
    d.line_px = result.points_px;
    if (!height.told) {
        d.note = "height not known: U carries the scale error of a height up to 30 mm";
    }
    result.dimension = d;
    return result;
}

}  // namespace

ByHand measure_between(const cv::Mat& grey, const scale::Plane& plane, cv::Point2d a, cv::Point2d b,
                       const ByHandOptions& options) {
    const auto size = [](const std::vector<cv::Point2d>& mm) { return cv::norm(mm[1] - mm[0]); };
    return measured(grey, plane, {a, b}, options, DimensionKind::distance, std::sqrt(2.0), size);
}

ByHand measure_circle(const cv::Mat& grey, const scale::Plane& plane, const std::vector<cv::Point2d>& points,
                      const ByHandOptions& options) {
    if (points.size() < 3) {
        return refused("a circle needs three points or more on its edge");
    }
    const auto size = [](const std::vector<cv::Point2d>& mm) {
        const auto circle = geometric_circle(mm);
        return circle ? 2 * circle->radius : 0.0;
    };
    // Points all around tell the radius as 1 / sqrt(n); on a short arc they tell it worse, which is why they
    // are asked for all around.
    const double share = 2 * std::sqrt(2.0 / static_cast<double>(points.size()));
    return measured(grey, plane, points, options, DimensionKind::circle_diameter, share, size);
}

}  // namespace stripbook::measure
