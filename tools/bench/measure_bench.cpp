// stripbook-bench-measure FOLDER...: measures every shot that shows one part and one scale marker, with the
// lens profile that the folder's own photos give (and again with the EXIF focal length alone), and prints how
// far from the truth it comes, beside the naive way. With --made N it makes N shots first
// (tools/sample_maker).
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <chrono>
#include <filesystem>
#include <map>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>

#include <unistd.h>

#include "bench/measure_naive.h"
#include "bench/measure_outcome.h"
#include "bench/measure_read.h"
#include "bench/measure_score.h"
#include "bench/measure_set.h"
#include "errors.h"
#include "measure/find_part.h"
#include "measure/overlay.h"
#include "measure/part.h"
#include "sample_maker/made_set.h"
#include "scale/plane.h"

namespace stripbook::bench {

namespace {

constexpr std::uint64_t first_judging_seed = 1000;

struct Wishes {
    std::vector<std::string> folders;
    int made = 0;  // shots to make
    std::vector<std::uint64_t> seeds = {first_judging_seed};
    bool each = false;          // print every shot
    bool table_of_all = false;  // print every dimension
    std::string drawings;       // a folder for drawings of the wrong shots
};

struct Shot {
    BenchShot what;
    ReadShot seen;
};

using LensKey = std::tuple<double, int, int>;

LensKey key_of(const ReadShot& seen) {
    return {seen.focal_length_35_mm.value_or(0), seen.size_px.width, seen.size_px.height};
}

// One profile a focal length and picture size.
std::map<LensKey, scale::LensProfile> profiles_of(const std::vector<Shot>& shots) {
    constexpr std::size_t most_views = 60;  // as the book does
    std::map<LensKey, std::vector<scale::SheetView>> views;
    std::map<LensKey, scale::LensProfile> profiles;
    for (const auto& shot : shots) {
        const auto key = key_of(shot.seen);
        const auto sheet = scale::sheet_seen(shot.seen.fiducials);
        if (sheet && views[key].size() < most_views) {
            views[key].push_back(sheet->view);
            profiles[key] = scale::lens_from_exif(shot.seen.focal_length_35_mm, shot.seen.size_px);
        }
    }
    for (auto& [key, profile] : profiles) {
        const auto estimate = scale::estimate_lens(views[key], profile);
        profile = estimate.lens;
        fmt::print(
            "lens {:g} mm, {} px wide: focal {:.1f} px, k1 {:.4f}, from {} photos, residual {:.3f} px {}\n",
            std::get<0>(key), std::get<1>(key), profile.focal_px, profile.k1, profile.photos,
            profile.residual_rms_px, estimate.fault);
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

void draw(const Shot& shot, const cv::Mat& colour, const measure::PartMeasurement& part,
          const std::string& folder) {
    const auto file = std::filesystem::path(folder) / shot.what.name;
    std::filesystem::create_directories(file.parent_path());
    if (!cv::imwrite(file.string(), measure::draw_overlay(colour, part))) {
        throw WrongUse(file.string() + " cannot be written: give --draw another folder.");
    }
}

constexpr double usual_tilt_deg = 25;  // up to which the aims hold

Outcome measured(const Shot& shot, const cv::Mat& colour, const scale::LensProfile& lens,
                 const Wishes& wishes) {
    Outcome outcome;
    outcome.shots = 1;
    const auto start = std::chrono::steady_clock::now();
    const auto plane = scale::find_plane(shot.seen.fiducials, lens);
    measure::PartOptions options;
    options.face_height_mm = shot.what.part.height_mm;
    options.not_part_px = shot.seen.tags_px;
    measure::PartMeasurement part;
    if (plane.plane) {
        part = measure::measure_part(colour, *plane.plane, options);
    }
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
    outcome.seconds = outcome.slowest_s = took.count();
    outcome.oblique = plane.plane && plane.plane->tilt_deg > usual_tilt_deg;
    const std::string reason = plane.plane ? part.reason : plane.reason;
    if (!reason.empty()) {
        ++outcome.reasons[reason];
        if (wishes.each) {
            fmt::print("    {} {}: {}\n", shot.what.name, shot.what.look, reason);
        }
        return outcome;
    }
    const ShotScore score = score_of(shot.what.part, part);
    if (part.outline_reason.empty()) {
        outcome.whole = 1;
    } else {
        outcome.partly = 1;
        ++outcome.reasons[part.outline_reason];
    }
    outcome.wrong = score.wrong() ? 1 : 0;
    if (score.wrong() && !wishes.drawings.empty()) {
        draw(shot, colour, part, wishes.drawings);
    }
    outcome.missing = score.missing;
    outcome.all = score.dimensions;
    if (wishes.each || wishes.table_of_all) {
        const Summary s = summary_of(score.dimensions);
        fmt::print(
            "    {} {} {} {:.1f} high, {:.0f} deg: {} dimensions, median error {:.3f}, {} missing, {} "
            "phantom, "
            "{:.2f} s{}{}\n",
            shot.what.name, shot.what.look, shot.what.part.kind, shot.what.part.height_mm,
            plane.plane->tilt_deg, s.dimensions, s.median_error_mm, score.missing, score.phantom,
            outcome.seconds, part.outline_reason.empty() ? "" : ", HOLES ONLY",
            score.wrong() ? ", WRONG" : "");
    }
    if (wishes.table_of_all) {
        print_all(score);
    }
    return outcome;
}

Outcome naive(const Shot& shot, const cv::Mat& colour) {
    Outcome outcome;
    outcome.shots = 1;
    const auto plane = scale::find_plane(
        shot.seen.fiducials, scale::lens_from_exif(shot.seen.focal_length_35_mm, shot.seen.size_px));
    if (!plane.plane) {
        return outcome;
    }
    const auto around = measure::surroundings_of(colour.size(), *plane.plane, shot.seen.tags_px);
    cv::Mat small;
    cv::resize(colour, small, around.sheet.size(), 0, 0, cv::INTER_AREA);
    const auto rough = measure::find_part(small, around);
    if (rough.refusal) {
        return outcome;
    }
    const auto size = naive_size(shot.seen.fiducials, rough.outline_px);
    if (!size) {
        return outcome;
    }
    outcome.whole = 1;
    const TruePart& part = shot.what.part;
    outcome.all.push_back({"length", part.length_mm, size->length_mm - part.length_mm, 0});
    outcome.all.push_back({"width", part.width_mm, size->width_mm - part.width_mm, 0});
    return outcome;
}

struct Table {
    Outcome with_profile, not_oblique, with_exif, naive_way;
    std::map<std::string, Outcome> by_look;
    std::map<std::string, Outcome> by_dimension;
};

void measure_folder(const std::filesystem::path& folder, const Wishes& wishes, Table& table) {
    fmt::print("{}\n", folder.string());
    std::vector<Shot> shots;
    for (const auto& what : shots_of(folder)) {
        shots.push_back({what, read_shot(what.file)});
    }
    const auto profiles = profiles_of(shots);
    for (const auto& shot : shots) {
        const cv::Mat colour = colour_of(shot.what.file);
        const auto profile = profiles.find(key_of(shot.seen));
        const auto exif = scale::lens_from_exif(shot.seen.focal_length_35_mm, shot.seen.size_px);
        const Outcome best =
            measured(shot, colour, profile == profiles.end() ? exif : profile->second, wishes);
        table.with_profile.add(best);
        if (!best.oblique) {
            table.not_oblique.add(best);
        }
        if (wishes.made == 0) {
            table.with_exif.add(measured(shot, colour, exif, Wishes{}));
        }
        table.naive_way.add(naive(shot, colour));
        if (!shot.what.look.empty()) {
            table.by_look[shot.what.look].add(best);
        }
        for (const auto& d : best.all) {
            table.by_dimension[d.name].all.push_back(d);
        }
    }
}

// Made shots are measured where they are made and go with it.
void measure_made(int made, std::uint64_t seed, const Wishes& wishes, Table& table) {
    fmt::print("{} made shots, seed {}: {}\n", made, seed,
               seed < first_judging_seed ? "a seed for tuning (below 1000), judge by another"
                                         : "a seed for judging (from 1000), never used for tuning");
    const auto folder =
        std::filesystem::temp_directory_path() / fmt::format("stripbook-made-parts-{}", getpid());
    sample_maker::make_parts({made, seed}, folder, [](int, int) {});
    measure_folder(folder, wishes, table);
    std::filesystem::remove_all(folder);
}

void run(const Wishes& wishes) {
    Table table;
    if (wishes.made > 0) {
        for (const std::uint64_t seed : wishes.seeds) {
            measure_made(wishes.made, seed, wishes, table);
        }
    } else {
        for (const auto& folder : wishes.folders) {
            measure_folder(folder, wishes, table);
        }
    }
    fmt::print("\n");
    print_head();
    print_row("lens profile", table.with_profile);
    print_row(fmt::format("  up to {:g} degrees of tilt", usual_tilt_deg), table.not_oblique);
    if (wishes.made == 0) {
        print_row("EXIF focal length only", table.with_exif);
    }
    print_row("one marker edge, pixel box", table.naive_way);
    for (const auto& [look, outcome] : table.by_look) {
        print_row("  " + look, outcome);
    }
    for (const auto& [name, outcome] : table.by_dimension) {
        print_row("  " + name, outcome);
    }
    print_reasons(table.with_profile);
    fmt::print(
        "to reach: half within 0.15 mm or 0.1 %, 95 % within 0.5 mm or 0.3 %, 92 to 99 % inside U, U below "
        "0.4 mm on 200 mm, nine of ten shots whole, none wrong, 0.5 s\n");
}

}  // namespace

}  // namespace stripbook::bench

int main(int argc, char** argv) {
    CLI::App app("Measures parts on photos with known truth and prints how far off it is.");
    stripbook::bench::Wishes wishes;
    auto* folders = app.add_option("folder", wishes.folders, "Folders with a truth.json");
    app.add_option("--made", wishes.made, "Make so many shots and measure them instead")
        ->check(CLI::Range(1, 9999));
    app.add_option("--seed", wishes.seeds,
                   "Of the made shots, one or several: below 1000 for tuning, from 1000 for judging");
    app.add_flag("--each", wishes.each, "Print a line for every shot");
    app.add_flag("--all", wishes.table_of_all, "Print every dimension");
    app.add_option("--draw", wishes.drawings, "Draw what was measured on the wrong shots into this folder");
    CLI11_PARSE(app, argc, argv);
    if (wishes.made == 0 && folders->count() == 0) {
        fmt::print(stderr, "Give a folder with a truth.json, or --made and a number of shots.\n");
        return 2;
    }
    try {
        stripbook::bench::run(wishes);
    } catch (const stripbook::Error& error) {
        fmt::print(stderr, "{}\n", error.what());
        return 2;
    }
    return 0;
}
