#include "measure/hole_rims.h"

#include <algorithm>
#include <cmath>

namespace stripbook::measure {

Circle in_view(const Circle& mm, const FaceView& view) {
    return {view.view_from_mm(mm.centre), mm.radius * view.px_per_mm, mm.rms * view.px_per_mm};
}

Circle in_mm(const Circle& px, const FaceView& view) {
    return {view.mm_from_view(px.centre), px.radius / view.px_per_mm, px.rms / view.px_per_mm};
}

double inside(cv::Point2d point, const Circle& circle) {
    return circle.radius - cv::norm(point - circle.centre);
}

HoleRims::HoleRims(const FaceView& view, const HoleSight& sight)
    : foot_px_(view.view_from_mm(sight.foot_mm)),
      above_px_(sight.above_mm * view.px_per_mm),
      depth_px_(sight.depth_mm * view.px_per_mm) {}

cv::Point2d HoleRims::of_bore(cv::Point2d px, const Circle& circle) const {
    if (depth_px_ == 0 || inside(px, circle) < 0 || !walled(px, circle)) {
        return px;
    }
    const cv::Point2d above = of_higher(px, -depth_px_);
    return std::abs(inside(above, circle)) < std::abs(inside(px, circle)) ? above : px;
}

std::optional<Circle> HoleRims::bore_of_lower_rim(const Circle& seen) const {
    if (depth_px_ == 0 || above_px_ == 0) {
        return std::nullopt;
    }
    return Circle{of_higher(seen.centre, -depth_px_), seen.radius * (above_px_ + depth_px_) / above_px_,
                  seen.rms};
}

cv::Point2d HoleRims::of_higher(cv::Point2d px, double higher_px) const {
    return above_px_ == 0 ? px : foot_px_ + (px - foot_px_) * ((above_px_ - higher_px) / above_px_);
}

std::optional<Circle> HoleRims::lower_rim_of_bore(const Circle& bore) const {
    if (depth_px_ == 0 || above_px_ == 0) {
        return std::nullopt;
    }
    const double scale = above_px_ / (above_px_ + depth_px_);
    return Circle{foot_px_ + (bore.centre - foot_px_) * scale, bore.radius * scale, bore.rms};
}

// Whether in this direction the lower rim shows clearly inside the upper one.
bool HoleRims::walled(cv::Point2d px, const Circle& circle) const {
    constexpr double clearly_px = 1;
    const cv::Point2d out = (px - circle.centre) / std::max(1e-9, cv::norm(px - circle.centre));
    return inside(of_higher(circle.centre + circle.radius * out, -depth_px_), circle) < -clearly_px;
}

}  // namespace stripbook::measure
