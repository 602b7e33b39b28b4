#include <fmt/format.h>

#include <algorithm>

#include "errors.h"
#include "sample_maker/card_folder.h"
#include "sample_maker/look.h"
#include "sample_maker/made_set.h"
#include "sample_maker/outline.h"
#include "sample_maker/random_pose.h"

namespace stripbook::sample_maker {

namespace {

constexpr std::int64_t first_photo_ms = 1'773'993'600'000;  // 2026-03-20T08:00:00
constexpr std::int64_t between_photos_ms = 61'370;
constexpr const char* serial = "M00001";

CameraNotes camera_notes(std::int64_t time_ms) {
    return {"Ferrow", "FV-20", serial, exif_time(time_ms), exif_hundredths(time_ms), "", 20, 40, 1};
}

// A pose whose box in the picture touches none of `taken`; its own box is added.
Pose free_pose(const Camera& camera, cv::Size2d size_mm, const Look& look, std::vector<cv::Rect2d>& taken,
               Dice& dice) {
    constexpr int tries = 300;
    for (int i = 0; i < tries; ++i) {
        const PoseWish wish{look.px_per_mm.pick(dice), look.max_tilt_deg};
        Pose pose = random_pose(camera, size_mm, wish, dice);
        const cv::Rect2d box = box_around(*face_corners_px(camera, pose, size_mm));
        const auto touches = [&](const cv::Rect2d& other) { return (other & box).area() > 0; };
        if (std::none_of(taken.begin(), taken.end(), touches)) {
            taken.push_back(box);
            return pose;
        }
    }
    throw WrongUse(
        fmt::format("{} tags side by side do not fit a picture of {} x {}: give fewer tags, fewer px/mm or a "
                    "larger picture.",
                    taken.size() + 1, camera.size_px.width, camera.size_px.height));
}

}  // namespace

void make_photos(const PhotosWish& wish, const std::filesystem::path& folder, const Progress& progress) {
    make_empty_folder(folder);
    PhotoWriter writer(folder);
    DcfCounter counter("MADE_", "MADE", 100, 1);
    Dice photo_seeds(wish.seed);
    for (int photo = 0; photo < wish.count; ++photo) {
        Dice dice(photo_seeds.seed());
        Scene scene = empty_scene(wish.look, dice);
        const std::int64_t time_ms = first_photo_ms + photo * between_photos_ms;
        ShotNotes notes{counter.next(), {}, serial, written_time(time_ms), "mixed"};
        std::vector<cv::Rect2d> taken;
        for (int i = 0; i < wish.tags; ++i) {
            const number::TagNumber tag(wish.book, dice.whole(1, number::highest_serial));
            Item item{TagFace{tag, "", ""}, {}};
            item.camera_from_plane = free_pose(scene.camera, printed_size_mm(item), wish.look, taken, dice);
            wear(item, wish.look, dice);
            scene.items.push_back(item);
            notes.belongs_to.push_back(tag.short_text());
        }
        scene.notes = camera_notes(time_ms);
        writer.write(scene, notes);
        progress(photo + 1, wish.count);
    }
    writer.write_truth(folder / "truth.json");
}

void make_one(const OneWish& wish, const std::filesystem::path& file,
              const std::filesystem::path& truth_file) {
    Dice dice(wish.seed);
    Scene scene = empty_scene(wish.look, dice);
    Item item{wish.face, {}};
    const cv::Point2d middle((wish.look.size_px.width - 1) / 2.0, (wish.look.size_px.height - 1) / 2.0);
    item.camera_from_plane =
        pose_of(scene.camera, printed_size_mm(item),
                {wish.turn_deg, wish.tilt_deg, wish.tilt_direction_deg, middle}, wish.px_per_mm);
    wear(item, wish.look, dice);
    scene.items.push_back(item);
    scene.notes = camera_notes(first_photo_ms);
    scene.notes.orientation = wish.orientation;

    ShotNotes notes{file.filename().string(), {}, serial, written_time(first_photo_ms), "mixed"};
    if (const auto* tag = std::get_if<TagFace>(&wish.face)) {
        notes.belongs_to.push_back(tag->number.short_text());
    }
    PhotoWriter writer(file.parent_path());
    writer.write(scene, notes);
    if (!truth_file.empty()) {
        writer.write_truth(truth_file);
    }
}

}  // namespace stripbook::sample_maker
