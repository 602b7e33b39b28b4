#include "sample_maker/camera.h"

#include <cmath>

namespace stripbook::sample_maker {

namespace {

// The bent ray and the derivatives of its x and y after the ray's x and y.
struct Bent {
    cv::Point2d ray;
    double xx = 1, xy = 0, yx = 0, yy = 1;
    [[nodiscard]] double determinant() const { return xx * yy - xy * yx; }
};

Bent bend(const std::array<double, 4>& distortion, cv::Point2d ray) {
    const auto [k1, k2, p1, p2] = distortion;
    const double x = ray.x;
    const double y = ray.y;
    const double r2 = x * x + y * y;
    const double radial = 1 + r2 * (k1 + r2 * k2);
    const double slope = 2 * (k1 + 2 * r2 * k2);  // d radial / d x = slope * x
    Bent bent;
    bent.ray = {x * radial + 2 * p1 * x * y + p2 * (r2 + 2 * x * x),
                y * radial + p1 * (r2 + 2 * y * y) + 2 * p2 * x * y};
    bent.xx = radial + slope * x * x + 2 * p1 * y + 6 * p2 * x;
    bent.xy = slope * x * y + 2 * p1 * x + 2 * p2 * y;
    bent.yx = bent.xy;
    bent.yy = radial + slope * y * y + 6 * p1 * y + 2 * p2 * x;
    return bent;
}

bool is_straight(const Camera& camera) {
    return camera.distortion == std::array<double, 4>{0, 0, 0, 0};
}

// Between the optical axis and the fold the model is one to one; beyond it the same pixels are reached again.
// Only the radial part is asked: the tangential terms of real lenses are hundredths of it.
bool beyond_fold(const std::array<double, 4>& distortion, cv::Point2d ray) {
    const double r2 = ray.x * ray.x + ray.y * ray.y;
    constexpr int steps = 16;
    for (int i = 1; i <= steps; ++i) {
        const double q = r2 * i / steps;
        if (1 + q * (3 * distortion[0] + q * 5 * distortion[1]) <= 0) {
            return true;
        }
    }
    return false;
}

}  // namespace

Camera plain_camera(cv::Size size_px) {
    const double focal_px = 1.2 * size_px.width;
    return {
        size_px,
        cv::Matx33d(focal_px, 0, (size_px.width - 1) / 2.0, 0, focal_px, (size_px.height - 1) / 2.0, 0, 0, 1),
        {0, 0, 0, 0}};
}

Pose laid_beside(const Pose& camera_from_plane, cv::Point2d origin_mm, double turn_rad) {
    const double c = std::cos(turn_rad);
    const double s = std::sin(turn_rad);
    const cv::Matx33d first_from_second(c, -s, 0, s, c, 0, 0, 0, 1);
    const cv::Vec3d origin(origin_mm.x, origin_mm.y, 0);
    return {camera_from_plane.rotation * first_from_second,
            camera_from_plane.rotation * origin + camera_from_plane.translation_mm};
}

cv::Point2d pixel_from_ray(const Camera& camera, cv::Point2d ray) {
    const cv::Point2d bent = is_straight(camera) ? ray : bend(camera.distortion, ray).ray;
    const cv::Matx33d& k = camera.matrix;
    return {k(0, 0) * bent.x + k(0, 1) * bent.y + k(0, 2), k(1, 1) * bent.y + k(1, 2)};
}

std::optional<cv::Point2d> ray_from_pixel(const Camera& camera, cv::Point2d pixel) {
    const cv::Matx33d& k = camera.matrix;
    const double bent_y = (pixel.y - k(1, 2)) / k(1, 1);
    const cv::Point2d wanted((pixel.x - k(0, 2) - k(0, 1) * bent_y) / k(0, 0), bent_y);
    if (is_straight(camera)) {
        return wanted;
    }
    cv::Point2d ray = wanted;
    for (int i = 0; i < 30; ++i) {
        const Bent bent = bend(camera.distortion, ray);
        const double det = bent.determinant();
        if (!(det > 1e-6)) {
            return std::nullopt;
        }
        const cv::Point2d off = wanted - bent.ray;
        const cv::Point2d step((bent.yy * off.x - bent.xy * off.y) / det,
                               (bent.xx * off.y - bent.yx * off.x) / det);
        ray += step;
        if (std::abs(step.x) + std::abs(step.y) < 1e-12) {
            return beyond_fold(camera.distortion, ray) ? std::nullopt : std::optional(ray);
        }
    }
    return std::nullopt;
}

std::optional<cv::Point2d> pixel_from_plane(const Camera& camera, const Pose& camera_from_plane,
                                            cv::Point2d plane_mm) {
    const cv::Vec3d point =
        camera_from_plane.rotation * cv::Vec3d(plane_mm.x, plane_mm.y, 0) + camera_from_plane.translation_mm;
    if (!(point[2] > 1e-6)) {
        return std::nullopt;
    }
    const cv::Point2d ray(point[0] / point[2], point[1] / point[2]);
    if (!is_straight(camera) && beyond_fold(camera.distortion, ray)) {
        return std::nullopt;
    }
    return pixel_from_ray(camera, ray);
}

PlaneFromRay::PlaneFromRay(const Pose& camera_from_plane) {
    const cv::Matx33d& r = camera_from_plane.rotation;
    const cv::Vec3d& t = camera_from_plane.translation_mm;
    const cv::Matx33d ray_from_plane(r(0, 0), r(0, 1), t[0], r(1, 0), r(1, 1), t[1], r(2, 0), r(2, 1), t[2]);
    plane_from_ray_ = ray_from_plane.inv();
}

std::optional<cv::Point2d> PlaneFromRay::operator()(cv::Point2d ray) const {
    // The homogeneous third part is 1 / depth: positive before the camera.
    const cv::Vec3d plane = plane_from_ray_ * cv::Vec3d(ray.x, ray.y, 1);
    if (!(plane[2] > 1e-12)) {
        return std::nullopt;
    }
    return cv::Point2d(plane[0] / plane[2], plane[1] / plane[2]);
}

}  // namespace stripbook::sample_maker
