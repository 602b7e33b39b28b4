// stripbook-samples: writes made photographs with exact truth. Exit status 0 done, 2 wrong use, 3 failed.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <iostream>

#include "errors.h"
#include "sample_maker/made_set.h"

namespace {

using namespace stripbook::sample_maker;
using stripbook::WrongUse;
using stripbook::number::BookCode;
using stripbook::number::TagNumber;

// One line, whatever a file name or an argument holds.
std::string one_line(std::string text) {
    std::replace_if(
        text.begin(), text.end(), [](char c) { return (c >= 0 && c < ' ') || c == 127; }, '?');
    return text;
}

void show_progress(int done, int of) {
    if (done % 50 == 0 || done == of) {
        std::cerr << (of > 0 ? fmt::format("{} of {} photos made\n", done, of)
                             : fmt::format("{} photos made\n", done));
    }
}

// The options as typed; what they mean is asked afterwards, so that a wrong one is named in plain words.
struct LookOptions {
    std::string px_per_mm = "1.0:3.0";
    std::string tilt = "25";
    std::string blur = "0.6", shake = "0", noise = "5", grime = "0:0.3", covered = "0", gain = "1", k1 = "0";
    std::string size = "1600x1200";
    std::string background = "noise";
    int quality = 90;

    void add_to(CLI::App& command) {
        command.add_option("--px-per-mm", px_per_mm, "pixels per millimetre, a number or LOW:HIGH");
        command.add_option("--tilt", tilt, "greatest tilt in degrees, 0 to 70");
        command.add_option("--blur", blur, "lens blur, sigma in pixels, a number or LOW:HIGH");
        command.add_option("--shake", shake, "motion blur in pixels, a number or LOW:HIGH");
        command.add_option("--noise", noise, "noise, sigma in grey levels, a number or LOW:HIGH");
        command.add_option("--grime", grime, "dirty share of the face, 0 to 1, a number or LOW:HIGH");
        command.add_option("--covered", covered,
                           "share of the face under something, 0 to 0.9, a number or LOW:HIGH");
        command.add_option("--gain", gain, "exposure, a number or LOW:HIGH");
        command.add_option("--k1", k1, "radial distortion of the lens (OpenCV's k1)");
        command.add_option("--quality", quality, "JPEG quality, 1 to 100");
        command.add_option("--size", size, "picture size, as 1600x1200");
        command.add_option("--background", background, "flat, gradient, noise, wood or metal");
    }

    [[nodiscard]] Look look() const {
        Look look;
        look.size_px = size_from(size);
        look.px_per_mm = range_from(px_per_mm, "--px-per-mm");
        look.max_tilt_deg = range_from(tilt, "--tilt").high;
        look.blur_px = range_from(blur, "--blur");
        look.shake_px = range_from(shake, "--shake");
        look.noise = range_from(noise, "--noise");
        look.grime = range_from(grime, "--grime");
        look.covered = range_from(covered, "--covered");
        look.gain = range_from(gain, "--gain");
        look.k1 = range_from(k1, "--k1").low;
        look.quality = quality;
        look.background = background_kind(background);
        return look;
    }
};

struct PhotosCommand {
    std::string out, book = "PET";
    int count = 100, tags = 1;
    std::uint64_t seed = 1;
    LookOptions look;

    void add_to(CLI::App& app) {
        CLI::App* command =
            app.add_subcommand("photos", "photos of tags with random numbers, places and wear");
        command->add_option("--out", out, "an empty or new folder")->required();
        command->add_option("--book", book, "book code of the tags");
        command->add_option("--count", count, "photos")->check(CLI::Range(1, 8'999'100));
        command->add_option("--tags", tags, "tags in each photo")->check(CLI::Range(0, 50));
        command->add_option("--seed", seed, "same seed, same bytes");
        look.add_to(*command);
        command->final_callback([this] {
            make_photos({BookCode::from_typed(book), count, tags, seed, look.look()}, out, show_progress);
        });
    }
};

struct CardCommand {
    std::string out, book = "PET", size = "1600x1200";
    int parts = 5, cameras = 2;
    std::uint64_t seed = 1;

    void add_to(CLI::App& app) {
        CLI::App* command = app.add_subcommand("card", "a day in the workshop: a card of each camera");
        command->add_option("--out", out, "an empty or new folder")->required();
        command->add_option("--book", book, "book code of the tags");
        command->add_option("--parts", parts, "parts that come off");
        command->add_option("--cameras", cameras, "cameras");
        command->add_option("--size", size, "picture size, as 1600x1200");
        command->add_option("--seed", seed, "same seed, same bytes");
        command->final_callback([this] {
            make_day({BookCode::from_typed(book), parts, cameras, seed, size_from(size)}, out, show_progress);
        });
    }
};

struct PartsCommand {
    std::string out;
    int count = 100;
    std::uint64_t seed = 1;

    void add_to(CLI::App& app) {
        CLI::App* command = app.add_subcommand("parts", "bench shots of parts beside and on scale markers");
        command->add_option("--out", out, "an empty or new folder")->required();
        command->add_option("--count", count, "photos")->check(CLI::Range(1, 9999));
        command->add_option("--seed", seed, "same seed, same bytes");
        command->final_callback([this] { make_parts({count, seed}, out, show_progress); });
    }
};

struct OneCommand {
    std::string out, truth, tag, marker, stage, qr;
    std::string turn = "0", tilt_direction = "0";
    int orientation = 1;
    std::uint64_t seed = 1;
    LookOptions look;

    [[nodiscard]] Face face() const {
        const auto given = [](const std::string& text) { return text.empty() ? 0 : 1; };
        if (given(tag) + given(marker) + given(stage) + given(qr) != 1) {
            throw WrongUse("Give exactly one of --tag, --marker, --stage and --qr.");
        }
        if (!tag.empty()) {
            // A tag number with its book code; the book given here only stands in for one that is missing.
            return TagFace{TagNumber::from_typed(tag, BookCode::from_typed("PET")), "", ""};
        }
        if (!marker.empty()) {
            const MarkerFace face{marker, 1};
            layout_of(face);
            return face;
        }
        if (!stage.empty()) {
            const StageFace face{stage};
            identity_of(face);
            return face;
        }
        return QrFace{qr};
    }

    void add_to(CLI::App& app) {
        look.px_per_mm = "2";
        look.tilt = "0";
        look.grime = "0";
        CLI::App* command = app.add_subcommand("one", "one photo of one thing in the picture's middle");
        command->add_option("--out", out, "the JPEG file")->required();
        command->add_option("--truth", truth, "where its truth.json goes");
        command->add_option("--tag", tag, "a tag number, as PET-00417");
        command->add_option("--marker", marker, "pocket, bench or mat");
        command->add_option("--stage", stage, "a stage card, as cleaned");
        command->add_option("--qr", qr, "any text as a QR code");
        command->add_option("--turn", turn, "degrees clockwise");
        command->add_option("--tilt-direction", tilt_direction, "degrees; 0 tilts the right side away");
        command->add_option("--orientation", orientation, "Exif orientation to note, 1 to 8");
        command->add_option("--seed", seed, "same seed, same bytes");
        look.add_to(*command);
        command->final_callback([this] {
            const Look wished = look.look();
            make_one({face(), wished.px_per_mm.low, range_from(turn, "--turn").low, wished.max_tilt_deg,
                      range_from(tilt_direction, "--tilt-direction").low, orientation, seed, wished},
                     out, truth);
        });
    }
};

}  // namespace

int main(int argc, char** argv) {
    CLI::App app("Made photographs of tags and scale markers, with exact truth.", "stripbook-samples");
    app.require_subcommand(1);
    PhotosCommand photos;
    CardCommand card;
    PartsCommand parts;
    OneCommand one;
    photos.add_to(app);
    card.add_to(app);
    parts.add_to(app);
    one.add_to(app);
    try {
        app.parse(argc, argv);
        return 0;
    } catch (const CLI::Success& asked_for_help) {
        return app.exit(asked_for_help);
    } catch (const CLI::ParseError& wrong) {
        std::cerr << one_line(wrong.what()) << " See stripbook-samples --help.\n";
        return 2;
    } catch (const stripbook::WrongUse& wrong) {
        std::cerr << one_line(wrong.what()) << "\n";
        return 2;
    } catch (const std::exception& failed) {
        std::cerr << one_line(failed.what()) << "\n";
        return 3;
    }
}
