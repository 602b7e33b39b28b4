// stripbook measure: dimensions from photos with a scale marker. stripbook lens: what is known of the lenses.
#include <fmt/format.h>

#include <cmath>

#include <memory>

#include "book/lens_profiles.h"
#include "book/number_text.h"
#include "book/paths.h"
#include "book/photos.h"
#include "book/settings.h"
#include "book/tag_meanings.h"
#include "command.h"
#include "day/measure_day.h"
#include "errors.h"
#include "json_text.h"
#include "number/length_text.h"
#include "print/dimension_words.h"
#include "terminal.h"

namespace stripbook::cli {

namespace {

struct Typed {
    std::string of;  // a photo or a tag
    bool all = false;
    bool again = false;
    std::string height;
    std::vector<std::string> between;
    std::vector<std::string> circle;
    bool no_snap = false;
    bool explain = false;
    bool unmeasured_sheet = false;
};

cv::Point2d point_from(const std::string& text) {
    const auto comma = text.find(',');
    const auto x = book::number_from(text.substr(0, comma));
    const auto y = comma == std::string::npos ? std::nullopt : book::number_from(text.substr(comma + 1));
    if (!x || !y) {
        throw WrongUse(
            fmt::format("\"{}\" is no point: write its pixel in the upright picture as X,Y, for example "
                        "1204,880.5",
                        book::printable_name(text)));
    }
    return {*x, *y};
}

std::optional<day::PickedPoints> picked_by(const Typed& typed) {
    if (typed.between.empty() && typed.circle.empty()) {
        return std::nullopt;
    }
    if (!typed.between.empty() && !typed.circle.empty()) {
        throw WrongUse("--between and --circle are two measurements: give one at a time");
    }
    day::PickedPoints picked;
    picked.circle = !typed.circle.empty();
    picked.snap = !typed.no_snap;
    for (const auto& text : picked.circle ? typed.circle : typed.between) {
        picked.upright_px.push_back(point_from(text));
    }
    const std::size_t least = picked.circle ? 3 : 2;
    if (picked.upright_px.size() < least) {
        throw WrongUse("a circle needs three points or more: --circle X,Y X,Y X,Y");
    }
    return picked;
}

nlohmann::json measurement_as_json(const book::Book& book, const book::Measurement& m) {
    auto dimensions = nlohmann::json::array();
    for (const auto& d : m.dimensions) {
        auto budget = nlohmann::json::array();
        for (const auto& [name, u] : d.budget) {
            budget.push_back({{"name", name}, {"u", u}});
        }
        dimensions.push_back({{"number", d.number},
                              {"name", d.name},
                              {"value", d.value},
                              {"U", d.expanded},
                              {"unit", d.unit},
                              {"holes", d.holes},
                              {"note", d.note},
                              {"nearest_standard_size", d.hint},
                              {"budget", budget}});
    }
    const auto overlay = book::overlay_file(book, m);
    return {
        {"photo", m.photo.text()},
        {"tag", m.tag.text()},
        {"by_hand", m.by_hand},
        {"marker", m.marker},
        {"sheet", m.sheet},
        {"lens", m.lens},
        {"face_height_mm", m.face_height_mm ? nlohmann::json(*m.face_height_mm) : nlohmann::json(nullptr)},
        {"refusal", m.refusal},
        {"notes", m.notes},
        {"dimensions", dimensions},
        {"overlay", std::filesystem::exists(overlay) ? overlay.string() : ""}};
}

void print_measurement(const book::Book& book, const book::Measurement& m, bool inch, bool explain) {
    fmt::print("{} of {}, {} marker ({})\n", m.photo.text(), m.tag.text(), m.marker, m.sheet);
    if (!m.refusal.empty()) {
        fmt::print("  not measured: {}\n", m.refusal);
        return;
    }
    for (const auto& d : m.dimensions) {
        const auto words = print::value_words(d, inch);
        fmt::print("  {:>2}  {:<20} {:>12}  U {:<10}{}{}\n", d.number, print::dimension_name(d), words.value,
                   words.expanded, d.note.empty() ? "" : "  " + d.note,
                   d.hint.empty() ? "" : "  near " + d.hint);
        if (explain) {
            for (const auto& [name, u] : d.budget) {
                fmt::print("        {:<28} u {:.3f} {}\n", name, u, d.unit);
            }
        }
    }
    for (const auto& note : m.notes) {
        fmt::print("  {}\n", note);
    }
    if (explain) {
        fmt::print(
            "  {}; face height {}\n", m.lens,
            m.face_height_mm ? fmt::format("{} mm", book::number_text(*m.face_height_mm)) : "not told");
    }
    const auto overlay = book::overlay_file(book, m);
    if (std::filesystem::exists(overlay)) {
        fmt::print("  drawn on the photo: {}\n", overlay.string());
    }
}

day::MeasureOptions options_from(const book::Book& book, const Typed& typed) {
    day::MeasureOptions options;
    options.stop = stop_requested;
    options.unmeasured_too = typed.unmeasured_sheet;
    options.who = book::who_is_working(book);
    // Naming a photo or a part asks for it to be measured, whatever was measured before.
    options.again = typed.again || !typed.of.empty();
    if (!typed.height.empty()) {
        options.face_height_mm = number::length_from_typed(typed.height, unit_of(book)).mm;
    }
    return options;
}

// What contradicts an earlier dimension of the part is told, and kept.
std::vector<book::Measurement> told(day::MeasureOutcome outcome) {
    for (const auto& line : outcome.contradictions) {
        fmt::print(stderr, "stripbook: {}\n", line);
    }
    return std::move(outcome.measured);
}

// A plain number is a photo's; a tag's has more than digits: 417-D, PET-00417-D.
bool is_tag(const std::string& typed) {
    return typed.find('-') != std::string::npos;
}

std::vector<book::Measurement> measured_part(book::Book& book, const number::TagNumber& part, bool picked,
                                             const day::MeasureOptions& options) {
    if (picked) {
        throw WrongUse("points lie in one photo: name it, for example p12, not the part");
    }
    auto list = told(day::measure_parts(book, {{}, part}, options));
    if (list.empty()) {
        throw WrongUse(
            fmt::format("no photo of {} can be measured: it needs one with a scale marker in the "
                        "picture and a link to this part alone",
                        part.text()));
    }
    return list;
}

std::vector<book::Measurement> measured(book::Book& book, const Typed& typed) {
    auto options = options_from(book, typed);
    const auto picked = picked_by(typed);
    if (typed.all) {
        Progress progress("Measuring", false);
        options.progress = [&](const day::ReadProgress& p) { progress.show(p.done, p.all); };
        return told(day::measure_parts(book, {}, options));
    }
    if (is_tag(typed.of)) {
        return measured_part(book, book::part_from_typed(book, typed.of), picked.has_value(), options);
    }
    const auto photo = book::photo_from_typed(book, typed.of);
    if (picked) {
        return {day::measure_picked(book, photo, *picked, options)};
    }
    auto list = told(day::measure_parts(book, {photo, {}}, options));
    if (list.empty()) {
        throw WrongUse(
            fmt::format("{} cannot be measured: it needs a scale marker in the picture and a link to "
                        "exactly one part",
                        photo.text()));
    }
    return list;
}

void measure(const Typed& typed, Context& context) {
    if (typed.all != typed.of.empty()) {
        throw WrongUse("name a photo, for example p12, or a part's whole tag, PET-00417-D, or say --all");
    }
    auto book = open_book(context, book::Access::write, typed.all ? "measure --all" : "measure");
    const auto list = measured(book, typed);
    bool refused = false;
    auto answer = nlohmann::json::array();
    for (const auto& m : list) {
        refused = refused || !m.refusal.empty();
        if (context.json) {
            answer.push_back(measurement_as_json(book, m));
        } else {
            print_measurement(book, m, book::setting(book, "units") == "inch", typed.explain);
        }
    }
    if (context.json) {
        print_json({{"measurements", answer}, {"note", measure::no_gauge_note}});
    } else {
        fmt::print("{}\n", list.empty() ? "nothing new to measure" : measure::no_gauge_note);
    }
    context.status = refused ? needs_a_person : done;
}

void lens(const Context& context) {
    const auto book = open_book(context, book::Access::read, "lens");
    const auto lenses = book::all_lenses(book);
    if (context.json) {
        auto list = nlohmann::json::array();
        for (const auto& l : lenses) {
            list.push_back({{"camera", l.camera_words},
                            {"focal_length_mm", l.focal_length_mm},
                            {"width_px", l.width_px},
                            {"height_px", l.height_px},
                            {"focal_px", l.focal_px},
                            {"centre_px", {l.centre_x_px, l.centre_y_px}},
                            {"k1", l.k1},
                            {"k2", l.k2},
                            {"photos", l.photos},
                            {"residual_rms_px", l.residual_rms_px}});
        }
        print_json({{"lenses", list}});
        return;
    }
    for (const auto& l : lenses) {
        fmt::print(
            "{} at {} mm, {} x {} px: focal length {:.1f} px (u {:.1f}), k1 {:+.4f} (u {:.4f}), from {}, "
            "residuals {:.2f} px\n",
            book::printable_name(l.camera_words), book::number_text(l.focal_length_mm), l.width_px,
            l.height_px, l.focal_px, std::sqrt(l.covariance[0]), l.k1, std::sqrt(l.covariance[18]),
            counted(static_cast<std::size_t>(l.photos), "photo", "photos"), l.residual_rms_px);
    }
    fmt::print("{}\n", counted(lenses.size(), "lens profile", "lens profiles"));
}

}  // namespace

void add_measure(CLI::App& app, Context& context) {
    auto typed = std::make_shared<Typed>();
    auto* command =
        add_command(app, context, "measure", "measure a part in its photos that show a scale marker");
    command->footer(std::string(measure::no_gauge_note));
    command->add_option("photo-or-tag", typed->of,
                        "photo number, for example p12, or a part's tag with its check character, 417-D");
    command->add_flag("--all", typed->all,
                      "every photo with a scale marker that is new or whose facts changed");
    command->add_flag("--again", typed->again, "with --all: measure also what was measured before");
    command->add_option("--height", typed->height,
                        "the measured face's height above the bench, for this time");
    command->add_option("--between", typed->between, "two pixels of the upright picture: X,Y X,Y")
        ->expected(2);
    command->add_option("--circle", typed->circle,
                        "pixels on a circle of the upright picture: X,Y X,Y X,Y ...");
    command->add_flag("--no-snap", typed->no_snap, "take the pixels as they are, not the nearest edge");
    command->add_flag("--explain", typed->explain, "show every component of the uncertainty");
    command->add_flag("--unmeasured-sheet", typed->unmeasured_sheet,
                      "measure also on a sheet that nobody measured (u 2 %)");
    command->callback([typed, &context] { measure(*typed, context); });
}

void add_lens(CLI::App& app, Context& context) {
    auto* command = add_command(app, context, "lens", "the lens profiles, from all scale markers seen");
    command->callback([&context] { lens(context); });
}

}  // namespace stripbook::cli
