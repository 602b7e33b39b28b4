// A made photograph: what is in it, and how the camera took it. Same scene, same pixels.
#pragma once

#include <cstdint>
#include <opencv2/core.hpp>
#include <optional>
#include <string>
#include <vector>

#include "sample_maker/background.h"
#include "sample_maker/camera.h"
#include "sample_maker/face.h"
#include "sample_maker/wear.h"

namespace stripbook::sample_maker {

/// A lamp mirrored in the lacquer: light added, falling off with the distance from its middle as a bell.
struct Glare {
    cv::Point2d middle_mm;
    double sigma_mm = 15;
    double strength = 1;  ///< at the middle, as a share of white
};

/// One printed thing in front of the camera. Items later in a scene lie over earlier ones.
struct Item {
    Face face;
    Pose camera_from_plane;
    /// Printed size over designed size, across and down: {0.6, 0.6} is the small tag, {1.004, 1} a printer
    /// that stretches. Everything else in millimetres of the face (glare, covers) is on the face as designed.
    cv::Vec2d print_scale{1, 1};
    double paper_grey = 225;
    double ink_grey = 30;
    double grime = 0;  ///< share of the face that is dirty, 0 to 1
    std::uint64_t grime_seed = 1;
    std::vector<Cover> covers{};
    std::optional<Glare> glare{};
};

/// The camera moved while the shutter was open.
struct Shake {
    double length_px = 0;
    double direction_deg = 0;  ///< 0 to the right, 90 down
};

/// What the camera writes beside the picture (Exif). Empty texts and zeros are left out.
struct CameraNotes {
    std::string maker;
    std::string model;
    std::string serial;
    std::string time;         ///< `2026:03:20 08:58:15`, by the camera's clock
    std::string sub_seconds;  ///< digits right of the point: `07` is 0.07 s
    std::string utc_offset;   ///< `+01:00`
    double focal_length_mm = 0;
    int focal_length_35_mm = 0;
    int orientation = 1;  ///< 1 to 8, as Exif counts; written only, the pixels stay as they are
};

struct Scene {
    Camera camera;
    Background background;
    std::vector<Item> items;
    double blur_sigma_px = 0;
    Shake shake;
    double gain = 1;         ///< exposure: levels are multiplied by it, then cut at 255
    double noise_sigma = 0;  ///< grey levels
    int jpeg_quality = 90;   ///< 1 to 100
    bool colour = true;      ///< three components under slightly warm light, else one
    std::uint64_t seed = 1;  ///< of background and noise
    CameraNotes notes;
};

/// Size of an item as printed, millimetres.
cv::Size2d printed_size_mm(const Item& item);

/// Pose of the item's face as designed: points of the plane are face millimetres times print_scale.
std::optional<cv::Point2d> pixel_from_face(const Camera& camera, const Item& item, cv::Point2d face_mm);

/// The picture before noise, rounding and cutting at 0 and 255: what the edges are judged by.
/// Throws WrongUse when an item reaches behind the camera or a number makes no sense.
cv::Mat1f light_of(const Scene& scene);

/// The grey picture as the sensor gives it, with noise.
cv::Mat1b picture_of(const Scene& scene);

/// The whole file: JPEG with Exif.
std::string photo_file_of(const Scene& scene);

}  // namespace stripbook::sample_maker
