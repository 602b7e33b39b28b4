// Whole folders of made photographs with their truth.json.
#pragma once

#include <cstdint>
#include <filesystem>
#include <functional>
#include <nlohmann/json.hpp>
#include <string>

#include "number/tag_number.h"
#include "sample_maker/range.h"
#include "sample_maker/scene.h"

namespace stripbook::sample_maker {

/// How a made photograph is taken. A range is diced anew for each photo or tag.
struct Look {
    cv::Size size_px{1600, 1200};
    Range px_per_mm{1, 3};
    double max_tilt_deg = 25;
    Range blur_px{0.6, 0.6};
    Range shake_px{0, 0};
    Range noise{5, 5};
    Range grime{0, 0.3};
    Range covered{0, 0};
    Range gain{1, 1};
    double k1 = 0;
    int quality = 90;
    BackgroundKind background = BackgroundKind::noise;
};

/// Photos of tags with random numbers and poses.
struct PhotosWish {
    number::BookCode book;
    int count = 100;
    int tags = 1;  ///< in each photo, side by side
    std::uint64_t seed = 1;
    Look look{};
};

/// Told after each photo: how many are done, of how many.
using Progress = std::function<void(int done, int of)>;

/// Writes DCIM/100MADE_/MADE0001.JPG and on (after 9999 the next folder), and truth.json. The folder may
/// exist, but must be empty. Throws WrongUse when the wish cannot be met, OutsideError when a file cannot be
/// written.
void make_photos(const PhotosWish& wish, const std::filesystem::path& folder, const Progress& progress);

/// One photo of one thing.
struct OneWish {
    Face face;
    double px_per_mm = 2;
    double turn_deg = 0;
    double tilt_deg = 0;
    double tilt_direction_deg = 0;
    int orientation = 1;
    std::uint64_t seed = 1;
    Look look{};  ///< its px_per_mm and max_tilt_deg are not asked
};

/// Writes the photo and, unless `truth_file` is empty, a truth.json with this one shot. Throws as
/// make_photos.
void make_one(const OneWish& wish, const std::filesystem::path& file,
              const std::filesystem::path& truth_file);

/// A day in the workshop: see make_day.
struct DayWish {
    number::BookCode book;
    int parts = 5;
    int cameras = 2;
    std::uint64_t seed = 1;
    cv::Size size_px{1600, 1200};
};

/// Writes a card a camera (`CAMERA1/DCIM/...`) and truth.json: each part gets a shot with its tag and two or
/// three details without one, later a bench shot with tag and scale marker. The first camera's file counter
/// rolls over from 9999 to 0001 into the next folder; the second one's clock is 7 min 20 s fast; times carry
/// hundredths. Throws as make_photos.
void make_day(const DayWish& wish, const std::filesystem::path& folder, const Progress& progress);

/// Bench shots of single parts with height.
struct PartsWish {
    int count = 100;
    std::uint64_t seed = 1;
};

/// Writes DCIM/100PARTS/PART0001.JPG and on, and truth.json: parts of steel, iron, brass and more on and
/// beside scale markers, by three cameras. Beside the fields of truth.h, `look` says what lies on what. Shot
/// i is the same whatever the count. Throws as make_photos.
void make_parts(const PartsWish& wish, const std::filesystem::path& folder, const Progress& progress);

}  // namespace stripbook::sample_maker
