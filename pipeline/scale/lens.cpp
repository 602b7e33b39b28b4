#include "scale/lens.h"

#include <algorithm>
#include <cmath>

#include "scale/sheet_fit.h"

namespace stripbook::scale {

namespace {

// Radius factor of the lens at a squared ray radius, and how the bent radius grows with the radius there.
double radial(const LensProfile& lens, double r2) {
    return 1 + r2 * (lens.k1 + r2 * lens.k2);
}
double slope(const LensProfile& lens, double r2) {
    return 1 + r2 * (3 * lens.k1 + 5 * r2 * lens.k2);
}

double median_of(std::vector<double> values) {
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

}  // namespace

cv::Point2d pixel_from_ray(const LensProfile& lens, cv::Point2d ray) {
    return lens.centre_px + lens.focal_px * radial(lens, ray.dot(ray)) * ray;
}

std::optional<cv::Point2d> ray_from_pixel(const LensProfile& lens, cv::Point2d pixel) {
    const cv::Point2d bent = (pixel - lens.centre_px) / lens.focal_px;
    const double wanted = cv::norm(bent);
    if (wanted < 1e-12) {
        return cv::Point2d(0, 0);
    }
    double r = wanted;
    for (int i = 0; i < 30; ++i) {
        const double s = slope(lens, r * r);
        if (!(s > 1e-3)) {
            return std::nullopt;
        }
        const double step = (wanted - r * radial(lens, r * r)) / s;
        r += step;
        if (std::abs(step) < 1e-13) {
            return r > 0 ? std::optional(bent * (r / wanted)) : std::nullopt;
        }
    }
    return std::nullopt;
}

LensProfile lens_from_exif(std::optional<double> focal_length_35_mm, cv::Size size_px) {
    constexpr double film_diagonal_mm = 43.2666;
    constexpr double guessed_focal_mm = 35;
    const double diagonal_px = std::hypot(size_px.width, size_px.height);
    const bool known = focal_length_35_mm && *focal_length_35_mm > 0;
    LensProfile lens;
    lens.size_px = size_px;
    lens.focal_px = (known ? *focal_length_35_mm : guessed_focal_mm) / film_diagonal_mm * diagonal_px;
    lens.centre_px = {(size_px.width - 1) / 2.0, (size_px.height - 1) / 2.0};
    const double u_focal = (known ? 0.03 : 0.4) * lens.focal_px;
    const double u_centre = 0.01 * size_px.width;
    constexpr double u_k1 = 0.08;
    constexpr double u_k2 = 0.05;
    lens.covariance = LensCovariance::diag(cv::Vec<double, lens_parameters>(
        u_focal * u_focal, u_centre * u_centre, u_centre * u_centre, u_k1 * u_k1, u_k2 * u_k2));
    return lens;
}

LensEstimate estimate_lens(const std::vector<SheetView>& views, const LensProfile& start) {
    LensEstimate estimate;
    estimate.lens = start;
    estimate.view_rms_px.assign(views.size(), 0);
    std::vector<std::size_t> used;
    for (std::size_t v = 0; v < views.size(); ++v) {
        if (views[v].sheet_mm.size() >= 4 && fit_sheets({views[v]}, start)) {
            used.push_back(v);
        }
    }
    constexpr double odd_view = 4;  // times the median residual
    while (used.size() >= 2) {
        std::vector<SheetView> chosen;
        for (const std::size_t v : used) {
            chosen.push_back(views[v]);
        }
        const auto fit = fit_sheets(chosen, start);
        if (!fit) {
            break;
        }
        std::vector<double> rms;
        for (std::size_t i = 0; i < used.size(); ++i) {
            rms.push_back(fit->views[i].rms_px);
            estimate.view_rms_px[used[i]] = rms.back();
        }
        const auto worst = std::max_element(rms.begin(), rms.end());
        if (used.size() > 2 && *worst > odd_view * std::max(median_of(rms), least_corner_sigma_px)) {
            used.erase(used.begin() + (worst - rms.begin()));
            continue;
        }
        estimate.lens = fit->lens;
        estimate.lens.photos = static_cast<int>(used.size());
        estimate.lens.residual_rms_px = fit->corner_sigma_px;
        return estimate;
    }
    estimate.fault =
        "too few photos with a scale marker to tell the lens: two or more are needed, taken with "
        "this camera and focal length";
    return estimate;
}

}  // namespace stripbook::scale
