#include "scale/plane.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <opencv2/core/affine.hpp>

#include "number/marker_layout.h"
#include "scale/sheet_fit.h"

namespace stripbook::scale {

namespace {

using fiducial::Fiducial;
using number::MarkerLayout;

// A flat sheet leaves residuals of a tenth of a pixel or so; these are far beyond and mean a bent sheet or a
// wrong one. Tuned on made and rendered photographs: 0.03 to 0.12 px there.
constexpr double most_residual_px = 0.5;
constexpr double most_residual_modules = 0.04;
constexpr int modules_across = 7;

// Asked for at each point; cv::Rodrigues gives the same, but with its derivatives.
cv::Matx33d matrix_of(const cv::Vec3d& rotation) {
    return cv::Affine3d(rotation).rotation();
}

bool is_marker_fiducial(const Fiducial& f) {
    return f.family == fiducial::Family::tag25h9 && number::marker_with_identity(f.identity) != nullptr;
}

const number::MarkerFiducial& printed_place(const MarkerLayout& layout, int identity) {
    return *std::find_if(layout.fiducials.begin(), layout.fiducials.end(),
                         [&](const auto& f) { return f.identity == identity; });
}

void add_corners(const MarkerLayout& layout, const Fiducial& f, const SheetCorrection& correction,
                 SheetView& view) {
    const auto& place = printed_place(layout, f.identity);
    const double half = layout.fiducial_side / 2;
    constexpr std::array<std::array<double, 2>, 4> directions{{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}}};
    for (std::size_t i = 0; i < 4; ++i) {
        const auto [dx, dy] = directions[i];
        view.sheet_mm.emplace_back((place.centre.x + dx * half) * correction.across,
                                   (place.centre.y + dy * half) * correction.along);
        view.photo_px.push_back(f.corners[i]);
        view.outward.emplace_back(dx, dy);
    }
}

PlaneReading refused(PlaneFault fault, std::string reason) {
    return {std::nullopt, fault, std::move(reason)};
}

PlaneReading nothing_seen(const std::vector<Fiducial>& found) {
    std::vector<int> identities;
    for (const auto& f : found) {
        if (is_marker_fiducial(f)) {
            identities.push_back(f.identity);
        }
    }
    std::sort(identities.begin(), identities.end());
    if (identities.empty()) {
        return refused(PlaneFault::no_marker,
                       "no scale marker seen: lay one flat beside the part, all of it in the picture");
    }
    if (std::adjacent_find(identities.begin(), identities.end()) != identities.end()) {
        return refused(PlaneFault::twins,
                       "two scale markers of one kind in the picture: photograph the part with one");
    }
    return refused(PlaneFault::too_few_fiducials,
                   "too little of one scale marker seen: lay it so that nothing covers it and all of it is "
                   "in the picture");
}

double tilt_of(const Plane& plane) {
    const cv::Matx33d camera_from_plane = matrix_of(plane.rotation);
    const cv::Vec3d middle =
        camera_from_plane * cv::Vec3d(plane.sheet_mm.width / 2, plane.sheet_mm.height / 2, 0) +
        plane.translation_mm;
    const cv::Vec3d normal(camera_from_plane(0, 2), camera_from_plane(1, 2), camera_from_plane(2, 2));
    return std::acos(std::clamp(normal.dot(middle) / cv::norm(middle), -1.0, 1.0)) * 180 / CV_PI;
}

double px_per_module(const MarkerLayout& layout, const Plane& plane) {
    return layout.fiducial_side / modules_across * plane.lens.focal_px /
           std::max(1.0, standpoint(plane).height_mm);
}

}  // namespace

SheetCorrection unmeasured_sheet() {
    constexpr double u_unmeasured = 0.02;
    return {1, 1, u_unmeasured};
}

PlaneVector Plane::parameters() const {
    return {rotation[0],       rotation[1],       rotation[2],   translation_mm[0],
            translation_mm[1], translation_mm[2], lens.focal_px, lens.centre_px.x,
            lens.centre_px.y,  lens.k1,           lens.k2,       bloom_px};
}

Plane Plane::with_parameters(const PlaneVector& p) const {
    Plane other = *this;
    other.rotation = {p[0], p[1], p[2]};
    other.translation_mm = {p[3], p[4], p[5]};
    other.lens.focal_px = p[6];
    other.lens.centre_px = {p[7], p[8]};
    other.lens.k1 = p[9];
    other.lens.k2 = p[10];
    other.bloom_px = p[11];
    return other;
}

Standpoint standpoint(const Plane& plane) {
    const cv::Vec3d camera = matrix_of(plane.rotation).t() * -plane.translation_mm;
    return {{camera[0], camera[1]}, -camera[2]};
}

std::optional<cv::Point2d> pixel_from_plane(const Plane& plane, cv::Point2d plane_mm, double height_mm) {
    const cv::Vec3d point =
        matrix_of(plane.rotation) * cv::Vec3d(plane_mm.x, plane_mm.y, -height_mm) + plane.translation_mm;
    if (!(point[2] > 1e-6)) {
        return std::nullopt;
    }
    return pixel_from_ray(plane.lens, {point[0] / point[2], point[1] / point[2]});
}

std::optional<cv::Point2d> plane_from_pixel(const Plane& plane, cv::Point2d pixel, double height_mm) {
    const auto ray = ray_from_pixel(plane.lens, pixel);
    if (!ray) {
        return std::nullopt;
    }
    const cv::Matx33d plane_from_camera = matrix_of(plane.rotation).t();
    const cv::Vec3d along = plane_from_camera * cv::Vec3d(ray->x, ray->y, 1);
    const cv::Vec3d camera = plane_from_camera * -plane.translation_mm;
    if (!(along[2] > 1e-9)) {
        return std::nullopt;
    }
    const double depth = (-height_mm - camera[2]) / along[2];
    if (!(depth > 0)) {
        return std::nullopt;
    }
    return cv::Point2d(camera[0] + depth * along[0], camera[1] + depth * along[1]);
}

std::optional<SheetSeen> sheet_seen(const std::vector<Fiducial>& found, const SheetCorrection& correction) {
    std::map<const MarkerLayout*, std::vector<const Fiducial*>> by_sheet;
    for (const auto& f : found) {
        if (is_marker_fiducial(f)) {
            by_sheet[number::marker_with_identity(f.identity)].push_back(&f);
        }
    }
    // A single square of another sheet is as likely a chance likeness: of a sheet two or more are wanted.
    std::erase_if(by_sheet, [](const auto& sheet) { return sheet.second.size() < 2; });
    if (by_sheet.size() != 1) {
        return std::nullopt;
    }
    const auto& [layout, fiducials] = *by_sheet.begin();
    SheetSeen seen;
    seen.marker = layout->kind;
    for (const Fiducial* f : fiducials) {
        if (std::find(seen.identities.begin(), seen.identities.end(), f->identity) != seen.identities.end()) {
            return std::nullopt;
        }
        add_corners(*layout, *f, correction, seen.view);
        seen.identities.push_back(f->identity);
    }
    return seen;
}

PlaneReading find_plane(const std::vector<Fiducial>& found, const LensProfile& lens,
                        const SheetCorrection& correction) {
    const auto seen = sheet_seen(found, correction);
    if (!seen) {
        return nothing_seen(found);
    }
    const auto fit = fit_sheets({seen->view}, lens);
    if (!fit) {
        return refused(PlaneFault::bent,
                       "the scale marker's corners make no flat sheet: lay it flat, nothing under it");
    }
    const MarkerLayout& layout = *number::marker_with_identity(seen->identities.front());
    Plane plane;
    plane.marker = layout.kind;
    plane.fiducials = static_cast<int>(seen->identities.size());
    plane.sheet_mm = {layout.width * correction.across, layout.height * correction.along};
    plane.lens = fit->lens;
    const auto& pose = fit->views.front().pose;
    plane.rotation = {pose[0], pose[1], pose[2]};
    plane.translation_mm = {pose[3], pose[4], pose[5]};
    plane.bloom_px = fit->views.front().bloom_px;
    std::copy(fit->joint_covariance.begin(), fit->joint_covariance.end(), plane.covariance.val);
    plane.u_sheet_relative = correction.u_relative;
    plane.residual_rms_px = fit->views.front().rms_px;
    plane.tilt_deg = tilt_of(plane);
    const double bent = std::max(most_residual_px, most_residual_modules * px_per_module(layout, plane));
    if (!(plane.residual_rms_px < bent)) {
        return refused(PlaneFault::bent,
                       fmt::format("the scale marker is not flat, or something covers the edge of a square "
                                   "(its corners lie {:.1f} px off a flat sheet): lay it flat, nothing under "
                                   "it, the part clear of its black squares",
                                   plane.residual_rms_px));
    }
    if (!(plane.tilt_deg < most_tilt_deg)) {
        return refused(PlaneFault::too_oblique,
                       fmt::format("the camera looks {:.0f} degrees from the side: photograph from above, "
                                   "25 degrees at most",
                                   plane.tilt_deg));
    }
    return {plane, PlaneFault::no_marker, ""};
}

}  // namespace stripbook::scale
