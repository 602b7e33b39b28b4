// stripbook-bench-measure FOLDER...: measures every shot that shows one part and one scale marker, with the
// lens profile that the folder's own photos give (and again with the EXIF focal length alone), and prints how
// far from the truth it comes, beside the naive way.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <ctime>
#include <map>
#include <opencv2/imgproc.hpp>

#include "bench/measure_naive.h"
#include "bench/measure_read.h"
#include "bench/measure_score.h"
#include "bench/measure_set.h"
#include "errors.h"
#include "measure/find_part.h"
#include "measure/part.h"
#include "scale/plane.h"

namespace stripbook::bench {

namespace {

struct Wishes {
    std::vector<std::string> folders;
    bool each = false;          // print every shot
    bool table_of_all = false;  // print every dimension
};

struct Shot {
    BenchShot what;
    ReadShot seen;
};

struct Outcome {
    std::string way;
    std::vector<Compared> all;
    std::size_t shots = 0;
    std::size_t measured = 0;
    std::size_t partly = 0;  // holes only
    std::size_t wrong = 0;
    int missing = 0;
    double slowest_s = 0;
};

// One profile a focal length and picture size.
std::map<std::pair<double, int>, scale::LensProfile> profiles_of(const std::vector<Shot>& shots) {
    std::map<std::pair<double, int>, std::vector<scale::SheetView>> views;
    std::map<std::pair<double, int>, scale::LensProfile> profiles;
    for (const auto& shot : shots) {
        const std::pair key(shot.seen.focal_length_35_mm.value_or(0), shot.seen.colour.cols);
        if (const auto sheet = scale::sheet_seen(shot.seen.fiducials)) {
            views[key].push_back(sheet->view);
            profiles[key] = scale::lens_from_exif(shot.seen.focal_length_35_mm, shot.seen.colour.size());
        }
    }
    for (auto& [key, profile] : profiles) {
        const auto estimate = scale::estimate_lens(views[key], profile);
        profile = estimate.lens;
        fmt::print(
            "lens {:g} mm, {} px wide: focal {:.1f} px, k1 {:.4f}, from {} photos, residual {:.3f} px {}\n",
            key.first, key.second, profile.focal_px, profile.k1, profile.photos, profile.residual_rms_px,
            estimate.fault);
    }
    return profiles;
}

void print_all(const ShotScore& score) {
    for (const auto& d : score.dimensions) {
        const bool outside = std::abs(d.error_mm) > d.expanded_mm;
        fmt::print("      {:16} {:8.2f}  error {:+.3f}  U {:.3f}{}\n", d.name, d.truth_mm, d.error_mm,
                   d.expanded_mm, outside ? "  outside" : "");
    }
}

void measure_shot(const Shot& shot, const scale::LensProfile& lens, const Wishes& wishes, Outcome& outcome) {
    ++outcome.shots;
    const std::clock_t start = std::clock();
    const auto plane = scale::find_plane(shot.seen.fiducials, lens);
    measure::PartOptions options;
    options.face_height_mm = shot.what.part.height_mm;
    options.not_part_px = shot.seen.tags_px;
    measure::PartMeasurement part;
    if (plane.plane) {
        part = measure::measure_part(shot.seen.colour, *plane.plane, options);
    }
    // Processor time: what else runs on the machine does not count.
    const double seconds = static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
    outcome.slowest_s = std::max(outcome.slowest_s, seconds);
    const std::string reason = plane.plane ? part.reason : plane.reason;
    if (!reason.empty()) {
        fmt::print("    {}: {}\n", shot.what.name, reason);
        return;
    }
    const ShotScore score = score_of(shot.what.part, part);
    if (part.outline_reason.empty()) {
        ++outcome.measured;
    } else {
        ++outcome.partly;
        fmt::print("    {}: {}\n", shot.what.name, part.outline_reason);
    }
    outcome.wrong += score.wrong() ? 1 : 0;
    outcome.missing += score.missing;
    outcome.all.insert(outcome.all.end(), score.dimensions.begin(), score.dimensions.end());
    if (wishes.each || wishes.table_of_all) {
        const Summary s = summary_of(score.dimensions);
        fmt::print("    {} {}: {} dimensions, median error {:.3f}, {} missing, {} phantom, {:.2f} s{}\n",
                   shot.what.name, shot.what.part.kind, s.dimensions, s.median_error_mm, score.missing,
                   score.phantom, seconds, score.wrong() ? ", WRONG" : "");
    }
    if (wishes.table_of_all) {
        print_all(score);
    }
}

void naive_shot(const Shot& shot, Outcome& outcome) {
    ++outcome.shots;
    const auto plane = scale::find_plane(
        shot.seen.fiducials, scale::lens_from_exif(shot.seen.focal_length_35_mm, shot.seen.colour.size()));
    if (!plane.plane) {
        return;
    }
    const auto around = measure::surroundings_of(shot.seen.colour.size(), *plane.plane, shot.seen.tags_px);
    cv::Mat small;
    cv::resize(shot.seen.colour, small, around.sheet.size(), 0, 0, cv::INTER_AREA);
    const auto rough = measure::find_part(small, around);
    const auto size = naive_size(shot.seen.fiducials, rough.outline_px);
    if (rough.refusal || !size) {
        return;
    }
    ++outcome.measured;
    outcome.all.push_back(
        {"length", shot.what.part.length_mm, size->length_mm - shot.what.part.length_mm, 0});
    outcome.all.push_back({"width", shot.what.part.width_mm, size->width_mm - shot.what.part.width_mm, 0});
}

void print_row(const Outcome& o) {
    const Summary s = summary_of(o.all);
    fmt::print("{:28} {:3}+{}/{:<3} {:5} {:4} {:6} {:7.1f} {:7.1f} {:7.1f} {:8.3f} {:8.3f} {:6.2f}\n", o.way,
               o.measured, o.partly, o.shots, o.wrong, o.missing, s.dimensions, 100 * s.half_within,
               100 * s.nearly_all_within, 100 * s.covered, s.median_error_mm, s.median_expanded_200_mm,
               o.slowest_s);
}

void run(const Wishes& wishes) {
    Outcome with_profile{"lens profile", {}, 0, 0, 0, 0, 0, 0};
    Outcome with_exif{"EXIF focal length only", {}, 0, 0, 0, 0, 0, 0};
    Outcome naive{"one marker edge, pixel box", {}, 0, 0, 0, 0, 0, 0};
    for (const auto& folder : wishes.folders) {
        fmt::print("{}\n", folder);
        std::vector<Shot> shots;
        for (const auto& what : shots_of(folder)) {
            shots.push_back({what, read_shot(what.file)});
        }
        const auto profiles = profiles_of(shots);
        for (const auto& shot : shots) {
            const auto profile =
                profiles.find({shot.seen.focal_length_35_mm.value_or(0), shot.seen.colour.cols});
            const auto exif = scale::lens_from_exif(shot.seen.focal_length_35_mm, shot.seen.colour.size());
            measure_shot(shot, profile == profiles.end() ? exif : profile->second, wishes, with_profile);
            measure_shot(shot, exif, {{}, false, false}, with_exif);
            naive_shot(shot, naive);
        }
    }
    fmt::print("\n{:28} {:>8} {:>5} {:>4} {:>6} {:>7} {:>7} {:>7} {:>8} {:>8} {:>6}\n", "", "shots", "wrong",
               "miss", "dims", "0.15 %", "0.5 %", "in U %", "med err", "U@200", "cpu s");
    print_row(with_profile);
    print_row(with_exif);
    print_row(naive);
    fmt::print(
        "to reach: half within 0.15 mm or 0.1 %, 95 % within 0.5 mm or 0.3 %, 92 to 99 % inside U, U below "
        "0.4 mm on 200 mm, nine of ten shots, none wrong, 0.5 s\n");
}

}  // namespace

}  // namespace stripbook::bench

int main(int argc, char** argv) {
    CLI::App app("Measures parts on photos with known truth and prints how far off it is.");
    stripbook::bench::Wishes wishes;
    app.add_option("folder", wishes.folders, "Folders with a truth.json")->required();
    app.add_flag("--each", wishes.each, "Print a line for every shot");
    app.add_flag("--all", wishes.table_of_all, "Print every dimension");
    CLI11_PARSE(app, argc, argv);
    try {
        stripbook::bench::run(wishes);
    } catch (const stripbook::Error& error) {
        fmt::print(stderr, "{}\n", error.what());
        return 2;
    }
    return 0;
}
