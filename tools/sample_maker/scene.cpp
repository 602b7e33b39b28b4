#include "sample_maker/scene.h"

#include <fmt/format.h>

#include <cmath>
#include <opencv2/imgproc.hpp>

#include "errors.h"
#include "sample_maker/paint.h"

namespace stripbook::sample_maker {

namespace {

void check(const Scene& scene) {
    const auto [width, height] = scene.camera.size_px;
    if (width < 16 || height < 16 || width > 20000 || height > 20000) {
        throw WrongUse(
            fmt::format("A picture of {} x {} cannot be made: give sides of 16 to 20000.", width, height));
    }
    if (!(scene.blur_sigma_px >= 0 && scene.blur_sigma_px <= 50)) {
        throw WrongUse(fmt::format("A blur of {} px cannot be made: give 0 to 50.", scene.blur_sigma_px));
    }
    if (!(scene.shake.length_px >= 0 && scene.shake.length_px <= 200)) {
        throw WrongUse(fmt::format("A shake of {} px cannot be made: give 0 to 200.", scene.shake.length_px));
    }
    if (!(scene.noise_sigma >= 0 && scene.noise_sigma <= 100)) {
        throw WrongUse(
            fmt::format("Noise of {} grey levels cannot be made: give 0 to 100.", scene.noise_sigma));
    }
    if (!(scene.gain > 0 && scene.gain <= 20)) {
        throw WrongUse(fmt::format("A gain of {} cannot be made: give more than 0, at most 20.", scene.gain));
    }
}

// The path of a point during the exposure, middle at the kernel's middle, so that nothing moves on the whole.
cv::Mat1f shake_kernel(const Shake& shake) {
    const int half = static_cast<int>(std::ceil(shake.length_px / 2)) + 1;
    cv::Mat1f kernel(2 * half + 1, 2 * half + 1, 0.F);
    const double direction = shake.direction_deg * CV_PI / 180;
    const int steps = 16 * static_cast<int>(std::ceil(shake.length_px) + 1);
    for (int i = 0; i <= steps; ++i) {
        const double along = shake.length_px * (static_cast<double>(i) / steps - 0.5);
        const double x = half + along * std::cos(direction);
        const double y = half + along * std::sin(direction);
        const int ix = static_cast<int>(x);
        const int iy = static_cast<int>(y);
        const auto fx = static_cast<float>(x - ix);
        const auto fy = static_cast<float>(y - iy);
        kernel(iy, ix) += (1 - fx) * (1 - fy);
        kernel(iy, ix + 1) += fx * (1 - fy);
        kernel(iy + 1, ix) += (1 - fx) * fy;
        kernel(iy + 1, ix + 1) += fx * fy;
    }
    kernel /= cv::sum(kernel)[0];
    return kernel;
}

}  // namespace

cv::Size2d printed_size_mm(const Item& item) {
    const cv::Size2d designed = face_size_mm(item.face);
    return {designed.width * item.print_scale[0], designed.height * item.print_scale[1]};
}

std::optional<cv::Point2d> pixel_from_face(const Camera& camera, const Item& item, cv::Point2d face_mm) {
    return pixel_from_plane(camera, item.camera_from_plane,
                            {face_mm.x * item.print_scale[0], face_mm.y * item.print_scale[1]});
}

cv::Mat1f light_of(const Scene& scene) {
    check(scene);
    Dice dice(scene.seed);
    cv::Mat1f picture = draw_background(scene.background, scene.camera.size_px, dice.seed());
    for (const Item& item : scene.items) {
        paint(item, scene.camera, picture);
    }
    if (scene.blur_sigma_px > 0) {
        cv::GaussianBlur(picture, picture, {}, scene.blur_sigma_px, scene.blur_sigma_px,
                         cv::BORDER_REPLICATE);
    }
    if (scene.shake.length_px > 0) {
        cv::filter2D(picture, picture, -1, shake_kernel(scene.shake), {-1, -1}, 0, cv::BORDER_REPLICATE);
    }
    picture *= scene.gain;
    return picture;
}

cv::Mat1b picture_of(const Scene& scene) {
    cv::Mat1f picture = light_of(scene);
    if (scene.noise_sigma > 0) {
        Dice dice(scene.seed);
        dice.seed();  // the first is the background's
        cv::Mat1f noise(picture.size());
        cv::RNG(dice.seed()).fill(noise, cv::RNG::NORMAL, 0, scene.noise_sigma);
        picture += noise;
    }
    cv::Mat1b grey;
    picture.convertTo(grey, CV_8U);
    return grey;
}

}  // namespace stripbook::sample_maker
