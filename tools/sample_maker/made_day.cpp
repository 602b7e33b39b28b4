#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "errors.h"
#include "sample_maker/card_folder.h"
#include "sample_maker/look.h"
#include "sample_maker/made_set.h"
#include "sample_maker/random_pose.h"

namespace stripbook::sample_maker {

namespace {

using std::int64_t;

constexpr int64_t second_ms = 1000;
constexpr int64_t minute_ms = 60 * second_ms;
constexpr int64_t day_starts_ms = 1'773'993'600'000;                       // 2026-03-20T08:00:00
constexpr int64_t bench_starts_ms = day_starts_ms + 7 * (60 * minute_ms);  // in the afternoon

// Names and places of parts of the invented railcar.
constexpr std::array<std::array<const char*, 2>, 6> part_names{
    {{"Water outlet flange", "Engine / front / top"},
     {"Reverser lever", "Cab / left"},
     {"Axlebox cover", "Axle 1 / right"},
     {"Brake shoe", "Axle 2 / left"},
     {"Gearbox plate", "Gearbox / rear"},
     {"Lamp bracket", "Front / top"}}};

struct CameraKit {
    std::string model;
    std::string serial;
    std::string card;  ///< its folder below the set's
    int64_t clock_error_ms = 0;
    DcfCounter counter;
};

// The first camera is about to roll over; the second one's clock is 7 min 20 s fast, later ones are right.
CameraKit camera_kit(int index) {
    const std::string card = fmt::format("CAMERA{}", index + 1);
    if (index == 0) {
        return {"FV-20", "A10442", card, 0, DcfCounter("FERRO", "FVA_", 101, 9997)};
    }
    const int64_t fast_ms = index == 1 ? 7 * minute_ms + 20 * second_ms : 0;
    return {"Pocket 3", fmt::format("B7712{}", index - 1), card, fast_ms,
            DcfCounter("FPKT_", "IMG_", 100, 2000 * index)};
}

struct DayPart {
    number::TagNumber tag;
    TagFace face;
    cv::Size2d plate_mm;
};

class Day {
  public:
    Day(const DayWish& wish, const std::filesystem::path& folder, const Progress& progress)
        : wish_(wish), dice_(wish.seed), writer_(folder), progress_(progress) {
        for (int i = 0; i < wish.cameras; ++i) {
            cameras_.push_back(camera_kit(i));
        }
        const int serial = dice_.whole(1, number::highest_serial - wish.parts);
        for (int i = 0; i < wish.parts; ++i) {
            const number::TagNumber tag(wish.book, serial + i);
            const auto& [name, place] = part_names[static_cast<std::size_t>(i) % part_names.size()];
            parts_.push_back({tag, {tag, name, place}, {dice_.between(80, 150), dice_.between(40, 90)}});
        }
    }

    void shoot() {
        strip_parts();
        bench_parts();
    }

    [[nodiscard]] const PhotoWriter& writer() const { return writer_; }
    [[nodiscard]] nlohmann::json cameras_truth() const {
        nlohmann::json cameras = nlohmann::json::array();
        for (const CameraKit& kit : cameras_) {
            cameras.push_back({{"camera", kit.serial},
                               {"card", kit.card},
                               {"clock_error_s", static_cast<double>(kit.clock_error_ms) / second_ms}});
        }
        return cameras;
    }

  private:
    // Part after part comes off, and the cameras take turns: a shot with its tag, then details without.
    void strip_parts() {
        int64_t time_ms = day_starts_ms;
        for (std::size_t i = 0; i < parts_.size(); ++i) {
            CameraKit& kit = cameras_[i % cameras_.size()];
            time_ms += static_cast<int64_t>(dice_.between(4, 12) * minute_ms);
            take(kit, time_ms, parts_[i], "as-removed", &Day::put_tag_beside_part);
            const int details = dice_.whole(2, 3);
            for (int detail = 0; detail < details; ++detail) {
                time_ms += static_cast<int64_t>(dice_.between(12, 45) * second_ms);
                take(kit, time_ms, parts_[i], "as-removed detail", &Day::put_part_alone);
            }
        }
    }

    // Later one after the other lies on the bench marker, in another order, before the first camera.
    void bench_parts() {
        int64_t time_ms = bench_starts_ms;
        for (std::size_t i = parts_.size(); i-- > 0;) {
            time_ms += static_cast<int64_t>(dice_.between(1.5, 4) * minute_ms);
            take(cameras_.front(), time_ms, parts_[i], "bench", &Day::put_on_bench);
        }
    }

    using Put = void (Day::*)(Scene&, const DayPart&);

    void take(CameraKit& kit, int64_t true_ms, const DayPart& part, const char* kind, Put put) {
        Look look;
        look.size_px = wish_.size_px;
        look.noise = {2, 5};
        look.blur_px = {0.4, 0.7};
        look.background = BackgroundKind::metal;
        Scene scene = empty_scene(look, dice_);
        (this->*put)(scene, part);
        const int64_t camera_ms = true_ms + kit.clock_error_ms;
        scene.notes = {"Ferrow", kit.model, kit.serial, exif_time(camera_ms), exif_hundredths(camera_ms), "",
                       20,       40,        1};
        writer_.write(scene, {kit.card + "/" + kit.counter.next(),
                              {part.tag.short_text()},
                              kit.serial,
                              written_time(true_ms),
                              kind});
        progress_(++done_, 0);
    }

    // Longest wanted extent to fill about this share of the picture's width.
    [[nodiscard]] double scale_for(double extent_mm, double share) const {
        return share * std::min(wish_.size_px.width, wish_.size_px.height * 4 / 3) / extent_mm;
    }

    Pose loose_pose(const Scene& scene, cv::Size2d size_mm, double px_per_mm) {
        const cv::Point2d middle((wish_.size_px.width - 1) / 2.0, (wish_.size_px.height - 1) / 2.0);
        return pose_of(scene.camera, size_mm,
                       {dice_.between(-15, 15), dice_.between(0, 15), dice_.between(0, 360), middle},
                       px_per_mm);
    }

    static Item plate_of(const DayPart& part, const Pose& pose) {
        Item plate{PlainFace{part.plate_mm}, pose};
        plate.paper_grey = 75;
        return plate;
    }

    Item tag_of(const DayPart& part, const Pose& pose) {
        Item tag{part.face, pose};
        tag.grime = dice_.between(0, 0.15);
        tag.grime_seed = dice_.seed();
        return tag;
    }

    void put_tag_beside_part(Scene& scene, const DayPart& part) {
        // One sheet of space, the part to the left and the tag to the right of it.
        const double gap_mm = 10;
        const cv::Size2d room(part.plate_mm.width + gap_mm + 120, std::max(part.plate_mm.height, 60.0));
        const Pose pose = loose_pose(scene, room, scale_for(room.width, 0.7));
        scene.items.push_back(plate_of(part, pose));
        scene.items.push_back(
            tag_of(part, laid_beside(pose, {part.plate_mm.width + gap_mm, 0}, dice_.between(0, 0.05))));
    }

    void put_part_alone(Scene& scene, const DayPart& part) {
        scene.items.push_back(plate_of(
            part, loose_pose(scene, part.plate_mm, scale_for(part.plate_mm.width, dice_.between(0.5, 0.9)))));
    }

    void put_on_bench(Scene& scene, const DayPart& part) {
        const MarkerFace bench{"bench", 3};
        const number::MarkerLayout& sheet = layout_of(bench);
        const double tag_gap_mm = 8;
        const cv::Size2d room(sheet.width, sheet.height + tag_gap_mm + 60);
        const Pose pose = loose_pose(scene, room, scale_for(room.height * 4 / 3, 0.78));
        scene.items.push_back({bench, pose});
        const cv::Point2d part_corner(sheet.width / 2 - part.plate_mm.width / 2,
                                      sheet.height / 2 - part.plate_mm.height / 2);
        scene.items.push_back(plate_of(part, laid_beside(pose, part_corner, 0)));
        scene.items.push_back(tag_of(
            part, laid_beside(pose, {dice_.between(20, sheet.width - 140), sheet.height + tag_gap_mm}, 0)));
    }

    const DayWish& wish_;
    Dice dice_;
    PhotoWriter writer_;
    const Progress& progress_;
    std::vector<CameraKit> cameras_;
    std::vector<DayPart> parts_;
    int done_ = 0;
};

}  // namespace

void make_day(const DayWish& wish, const std::filesystem::path& folder, const Progress& progress) {
    if (wish.parts < 1 || wish.parts > 500 || wish.cameras < 1 || wish.cameras > 9) {
        throw WrongUse(fmt::format(
            "A day of {} parts and {} cameras cannot be made: give 1 to 500 parts and 1 to 9 cameras.",
            wish.parts, wish.cameras));
    }
    make_empty_folder(folder);
    Day day(wish, folder, progress);
    day.shoot();
    day.writer().write_truth(folder / "truth.json", {{"cameras", day.cameras_truth()}});
}

}  // namespace stripbook::sample_maker
