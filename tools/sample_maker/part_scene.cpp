#include "sample_maker/part_scene.h"

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>

#include "sample_maker/paint.h"
#include "sample_maker/photo_file.h"

namespace stripbook::sample_maker {

namespace {

constexpr float paper_light = 0.75F;
constexpr float ink_light = 0.035F;

// Where each pixel's line of sight meets a level h above the marker's plane: foot + (height - h) * slope.
class Sights {
  public:
    Sights(const Camera& camera, const Pose& camera_from_plane) {
        const cv::Matx33d plane_from_camera = camera_from_plane.rotation.t();
        const cv::Vec3d stand = plane_from_camera * -camera_from_plane.translation_mm;
        foot_ = {stand[0], stand[1]};
        height_ = -stand[2];
        slopes_ = cv::Mat2d(camera.size_px.height / step + 2, camera.size_px.width / step + 2);
        for (int y = 0; y < slopes_.rows; ++y) {
            for (int x = 0; x < slopes_.cols; ++x) {
                const auto ray =
                    ray_from_pixel(camera, {static_cast<double>(x * step), static_cast<double>(y * step)});
                const cv::Vec3d along =
                    plane_from_camera * (ray ? cv::Vec3d(ray->x, ray->y, 1) : cv::Vec3d(0, 0, 1));
                slopes_(y, x) = {along[0] / along[2], along[1] / along[2]};
            }
        }
    }

    // The lens is as good as linear over a few pixels.
    [[nodiscard]] cv::Point2d slope(cv::Point2d px) const {
        const double x = std::clamp(px.x / step, 0.0, slopes_.cols - 1.001);
        const double y = std::clamp(px.y / step, 0.0, slopes_.rows - 1.001);
        const int ix = static_cast<int>(x);
        const int iy = static_cast<int>(y);
        const cv::Vec2d upper = slopes_(iy, ix) * (1 - x + ix) + slopes_(iy, ix + 1) * (x - ix);
        const cv::Vec2d lower = slopes_(iy + 1, ix) * (1 - x + ix) + slopes_(iy + 1, ix + 1) * (x - ix);
        const cv::Vec2d both = upper * (1 - y + iy) + lower * (y - iy);
        return {both[0], both[1]};
    }

    [[nodiscard]] cv::Point2d at_height(cv::Point2d slope, double height_mm) const {
        return foot_ + slope * (height_ - height_mm);
    }

  private:
    static constexpr int step = 8;
    cv::Mat2d slopes_;
    cv::Point2d foot_;
    double height_ = 0;
};

cv::Mat3f stained(const Stained& surface, cv::Size size, std::uint64_t seed) {
    Dice dice(seed);
    const cv::Size quarter(size.width / 4 + 1, size.height / 4 + 1);
    const cv::Mat1f small = cloud(quarter, surface.grain_px / 4, surface.grain_px / 4, dice);
    cv::Mat1f blots;
    cv::resize(small, blots, size, 0, 0, cv::INTER_CUBIC);
    cv::Mat3f colours(size);
    constexpr float soft = 0.4F;
    const float edge = static_cast<float>(1 - surface.share);
    for (int y = 0; y < size.height; ++y) {
        for (int x = 0; x < size.width; ++x) {
            const float t = std::clamp((blots(y, x) - edge) / soft + 0.5F, 0.F, 1.F);
            colours(y, x) = surface.clean.colour * (1 - t) + surface.stain * t;
        }
    }
    return colours;
}

// Lays a printed sheet over the ground. It is painted onto -1: what is less than ink is the sheet's edge, and
// sheets are white there.
void lay_sheet(const Item& sheet, const Camera& camera, cv::Mat3f& ground) {
    cv::Mat1f painted(ground.size(), -1.F);
    Item flat = sheet;
    flat.paper_grey = static_cast<double>(paper_light);
    flat.ink_grey = static_cast<double>(ink_light);
    paint(flat, camera, painted);
    for (int y = 0; y < ground.rows; ++y) {
        for (int x = 0; x < ground.cols; ++x) {
            const float v = painted(y, x);
            if (v >= ink_light) {
                ground(y, x) = cv::Vec3f::all(v);
            } else if (v > -1) {
                const float share = std::clamp((v + 1) / (1 + paper_light), 0.F, 1.F);
                ground(y, x) = ground(y, x) * (1 - share) + cv::Vec3f::all(paper_light * share);
            }
        }
    }
}

class PartPainter {
  public:
    PartPainter(const PartScene& scene, const Sights& sights, const cv::Mat3f& colours)
        : scene_(scene),
          sights_(sights),
          colours_(colours),
          dice_(scene.flat.seed + 1),
          c_(std::cos(scene.turn_rad)),
          s_(std::sin(scene.turn_rad)),
          lamps_(scene.lamps) {
        const cv::Point2d level = turned_back({lamps_.towards[0], lamps_.towards[1]});
        lamps_.towards = {level.x, level.y, lamps_.towards[2]};
    }

    void operator()(cv::Mat3f& picture) {
        const double drift = std::hypot(lamps_.towards[0], lamps_.towards[1]) / lamps_.towards[2];
        const double shade = scene_.solid.thickness *
                             std::max(sky_reach, drift + 2 * lamps_.half_angle_rad / lamps_.towards[2]);
        const double reach = reach_mm(scene_.solid) + shade;
        for (int y = 0; y < picture.rows; ++y) {
            for (int x = 0; x < picture.cols; ++x) {
                const Sight sight = sight_at(cv::Point2d(x, y));
                if (cv::norm(sight.ground_mm) < reach) {
                    picture(y, x) = pixel(x, y, sight, shade, picture(y, x));
                }
            }
        }
    }

  private:
    [[nodiscard]] cv::Point2d turned_back(cv::Point2d p) const {
        return {p.x * c_ + p.y * s_, -p.x * s_ + p.y * c_};
    }
    [[nodiscard]] Sight sight_at(cv::Point2d px) const {
        const cv::Point2d slope = sights_.slope(px);
        const double top = scene_.ground_mm + scene_.solid.thickness;
        return {turned_back(sights_.at_height(slope, top) - scene_.place_mm),
                turned_back(sights_.at_height(slope, scene_.ground_mm) - scene_.place_mm)};
    }

    cv::Vec3f pixel(int x, int y, const Sight& sight, double shade, const cv::Vec3f& ground) {
        const double top = distance_from(scene_.solid, sight.top_mm);
        const double low = distance_from(scene_.solid, sight.ground_mm);
        const double pixel_mm = cv::norm(sight_at(cv::Point2d(x + 1, y)).top_mm - sight.top_mm);
        const double drift = cv::norm(sight.top_mm - sight.ground_mm);
        if (top < -scene_.solid.chamfer - pixel_mm) {
            return sample(x, y, sight, ground);
        }
        if (std::min(top, low) > drift + pixel_mm) {
            if (low > shade) {
                return ground;
            }
            // Only shadow: few rays a pixel, as grainy as a path tracer's.
            constexpr int rays = 3;
            cv::Vec3f sum;
            for (int i = 0; i < rays; ++i) {
                sum += sample(x, y, sight, ground);
            }
            return sum / static_cast<float>(rays);
        }
        constexpr int side = 4;
        cv::Vec3f sum;
        for (int j = 0; j < side; ++j) {
            for (int i = 0; i < side; ++i) {
                const cv::Point2d inside((i + 0.5) / side - 0.5, (j + 0.5) / side - 0.5);
                sum += sample(x, y, sight_at(cv::Point2d(x, y) + inside), ground);
            }
        }
        return sum / static_cast<float>(side * side);
    }

    cv::Vec3f sample(int x, int y, const Sight& sight, const cv::Vec3f& ground) {
        const Meeting meeting = meeting_of(scene_.solid, sight);
        const Surface surface{meeting.what == Met::ground ? ground : colours_(y, x), scene_.part.clean.shine};
        return light_from(scene_.solid, lamps_, surface, meeting, dice_);
    }

    const PartScene& scene_;
    const Sights& sights_;
    const cv::Mat3f& colours_;
    Dice dice_;
    double c_, s_;
    Lamps lamps_;
};

void dim_aside(double falloff, cv::Mat3f& picture) {
    for (int y = 0; y < picture.rows; ++y) {
        for (int x = 0; x < picture.cols; ++x) {
            const double across = static_cast<double>(x) / picture.cols;
            const double down = static_cast<double>(y) / picture.rows;
            picture(y, x) *= static_cast<float>(1 - falloff * (across + down) / 2);
        }
    }
}

// IEC 61966-2-1, to a float of 0 to 255.
void encode(cv::Mat3f& picture) {
    constexpr int steps = 4096;
    std::vector<float> table(steps + 2);
    for (int i = 0; i < steps + 2; ++i) {
        const double v = static_cast<double>(i) / steps;
        table[static_cast<std::size_t>(i)] =
            static_cast<float>(255 * (v <= 0.0031308 ? 12.92 * v : 1.055 * std::pow(v, 1 / 2.4) - 0.055));
    }
    const auto level = [&](float v) {
        const float at = std::clamp(v, 0.F, 1.F) * steps;
        const auto i = static_cast<std::size_t>(at);
        const float part = at - static_cast<float>(i);
        return table[i] * (1 - part) + table[i + 1] * part;
    };
    for (auto& v : picture) {
        v = {level(v[0]), level(v[1]), level(v[2])};
    }
}

}  // namespace

cv::Mat3f linear_light_of(const PartScene& scene) {
    const Camera& camera = scene.flat.camera;
    cv::Mat3f picture = stained(scene.bench, camera.size_px, scene.flat.seed + 2);
    for (const Item& sheet : scene.flat.items) {
        lay_sheet(sheet, camera, picture);
    }
    const cv::Mat3f colours = stained(scene.part, camera.size_px, scene.flat.seed + 3);
    const Sights sights(camera, scene.flat.items.front().camera_from_plane);
    PartPainter(scene, sights, colours)(picture);
    dim_aside(scene.falloff, picture);
    const double sigma = scene.flat.blur_sigma_px;
    if (sigma > 0) {
        cv::GaussianBlur(picture, picture, {}, sigma, sigma, cv::BORDER_REPLICATE);
    }
    picture *= scene.exposure;
    return picture;
}

std::string photo_file_of(const PartScene& scene) {
    cv::Mat3f picture = linear_light_of(scene);
    encode(picture);
    if (scene.flat.noise_sigma > 0) {
        cv::Mat3f noise(picture.size());
        cv::RNG(scene.flat.seed + 4).fill(noise, cv::RNG::NORMAL, 0, scene.flat.noise_sigma);
        picture += noise;
    }
    cv::Mat3b levels;
    picture.convertTo(levels, CV_8UC3);
    return photo_file_of(levels, scene.flat.jpeg_quality, scene.flat.notes);
}

}  // namespace stripbook::sample_maker
