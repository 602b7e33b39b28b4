#include "sample_maker/card_folder.h"
#include "sample_maker/made_set.h"
#include "sample_maker/part_dice.h"

namespace stripbook::sample_maker {

namespace {

constexpr std::int64_t first_photo_ms = 1'773'993'600'000;  // 2026-03-20T08:00:00
constexpr std::int64_t between_photos_ms = 47'310;

nlohmann::json part_truth(const PartShot& shot) {
    auto part = truth_of_solid(shot.scene.solid);
    part["finish"] = shot.finish;
    part["pose"] = {shot.scene.place_mm.x, shot.scene.place_mm.y, shot.scene.ground_mm,
                    shot.scene.turn_rad * 180 / CV_PI};
    return part;
}

}  // namespace

void make_parts(const PartsWish& wish, const std::filesystem::path& folder, const Progress& progress) {
    make_empty_folder(folder);
    PhotoWriter writer(folder);
    DcfCounter counter("PARTS", "PART", 100, 1);
    Dice photo_seeds(wish.seed);
    for (int photo = 0; photo < wish.count; ++photo) {
        Dice dice(photo_seeds.seed());
        PartShot shot = part_shot(dice);
        Scene& flat = shot.scene.flat;
        const std::int64_t time_ms = first_photo_ms + photo * between_photos_ms;
        flat.notes.time = exif_time(time_ms);
        flat.notes.sub_seconds = exif_hundredths(time_ms);
        const ShotNotes notes{counter.next(), {}, flat.notes.serial, written_time(time_ms), "bench"};
        const std::string bytes = photo_file_of(shot.scene);
        auto truth = truth_of_shot(flat, bytes, notes);
        truth["parts"].push_back(part_truth(shot));
        truth["look"] = shot.look;
        writer.write(notes.file, bytes, truth);
        progress(photo + 1, wish.count);
    }
    writer.write_truth(folder / "truth.json");
}

}  // namespace stripbook::sample_maker
