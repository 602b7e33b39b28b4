// stripbook cameras: which cameras the book knows, what they are called, and how wrong their clocks are.
#include "book/cameras.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <optional>
#include <tuple>

#include "book/history.h"
#include "book/number_text.h"
#include "book/paths.h"
#include "book/photos.h"
#include "book/settings.h"
#include "command.h"
#include "day/read_day.h"
#include "day/retime.h"
#include "errors.h"
#include "json_text.h"
#include "link_changes.h"
#include "photo/metadata.h"

namespace stripbook::cli {

namespace {

using nlohmann::json;

struct Typed {
    std::string camera;
    std::string other;
    std::string name;
    std::string by;
    std::string at;
    std::string give_or_take;
    bool clear = false;
};

std::string heading(const book::Camera& camera) {
    const std::string words = book::printable_name(camera.words);
    return camera.name.empty() ? words : fmt::format("{} ({})", book::printable_name(camera.name), words);
}

std::string drift_words(const book::ClockPiece& piece) {
    return piece.drift_s_per_day
               ? fmt::format(", {} {:.1f} s a day", *piece.drift_s_per_day < 0 ? "losing" : "gaining",
                             std::abs(*piece.drift_s_per_day))
               : "";
}

void print_clock(const book::Book& book, const book::ClockPiece& piece) {
    const auto since = book::find_photo(book, piece.first_photo);
    fmt::print("    clock {}{}\n", book::words_of(piece), drift_words(piece));
    fmt::print("      {} to {}, from {} by its own clock\n", piece.first_photo.text(),
               piece.last_photo.text(), since ? since->camera_time.text : "?");
    fmt::print("      how known: {}\n", book::printable_name(piece.how));
    if (!piece.began.empty()) {
        fmt::print("      {}\n", book::printable_name(piece.began));
    }
}

json to_json(const book::ClockPiece& piece) {
    const auto or_null = [](const std::optional<double>& value) {
        return value ? json(*value) : json(nullptr);
    };
    return {{"first_photo", piece.first_photo.text()},
            {"last_photo", piece.last_photo.text()},
            {"began", piece.began},
            {"ahead_s", or_null(piece.ahead_s)},
            {"u_s", or_null(piece.u_s)},
            {"drift_s_per_day", or_null(piece.drift_s_per_day)},
            {"how", piece.how}};
}

json to_json(const book::ClockWord& word) {
    return {{"ahead_s", word.ahead_s},
            {"u_s", word.u_s},
            {"photo", word.photo.text()},
            {"who", word.who},
            {"said_at", word.said_at}};
}

json to_json(const book::Camera& camera, const std::vector<book::ClockPiece>& pieces,
             const std::vector<book::ClockWord>& words, const std::string& order) {
    json joined = json::array();
    for (const auto id : camera.joined) {
        joined.push_back(id.value);
    }
    json clock = json::array();
    for (const auto& piece : pieces) {
        if (piece.camera == camera.id) {
            clock.push_back(to_json(piece));
        }
    }
    json said = json::array();
    for (const auto& word : words) {
        if (word.camera == camera.id) {
            said.push_back(to_json(word));
        }
    }
    return {{"camera", camera.id.value},
            {"name", camera.name},
            {"maker", camera.maker},
            {"model", camera.model},
            {"serial", camera.serial},
            {"words", camera.words},
            {"joined", joined},
            {"photos", camera.photos},
            {"clock", clock},
            {"said", said},
            {"order_rests_on", order}};
}

void list(const Context& context) {
    const auto book = open_book(context, book::Access::read, "cameras");
    const auto cameras = book::all_cameras(book);
    const auto pieces = book::clock_pieces(book);
    const auto words = book::clock_words(book);
    auto orders = day::capture_orders(book);
    if (context.json) {
        json all = json::array();
        for (const auto& camera : cameras) {
            all.push_back(to_json(camera, pieces, words, orders[camera.id]));
        }
        print_json({{"cameras", all}});
        return;
    }
    if (cameras.empty()) {
        fmt::print("no camera yet: the first dump brings them\n");
    }
    for (const auto& camera : cameras) {
        fmt::print("{:>3} {}, {}\n", camera.id.value, heading(camera),
                   counted(static_cast<std::size_t>(camera.photos), "photo", "photos"));
        for (const auto id : camera.joined) {
            fmt::print("    with camera {}\n", id.value);
        }
        for (const auto& piece : pieces) {
            if (piece.camera == camera.id) {
                print_clock(book, piece);
            }
        }
        if (!orders[camera.id].empty()) {
            fmt::print("    order: {}\n", orders[camera.id]);
        }
    }
}

void show_history(const Typed& typed, const Context& context) {
    const auto book = open_book(context, book::Access::read, "cameras history");
    const auto camera = book::own_camera_from_typed(book, typed.camera);
    const auto changes = book::history_of(book, fmt::format("camera {}", camera.value));
    json all = json::array();
    for (const auto& c : changes) {
        all.push_back({{"at", c.at},
                       {"who", c.who},
                       {"field", c.field},
                       {"before", c.before},
                       {"after", c.after},
                       {"how", c.how}});
        if (!context.json) {
            fmt::print("{}  {}: {} from \"{}\" to \"{}\" ({})\n", c.at, book::printable_name(c.who),
                       book::printable_name(c.field), book::printable_name(c.before),
                       book::printable_name(c.after), c.how);
        }
    }
    if (context.json) {
        print_json({{"camera", camera.value}, {"history", all}});
    }
}

// What a change of clocks changed.
struct Retimed {
    std::size_t photos = 0;  ///< that have another time than before
    LinkChanges links;
};

// After `change`, with the photos linked anew.
template <typename Change>
Retimed retimed_by(book::Book& book, const Change& change) {
    Retimed retimed;
    const auto before = links_now(book);
    book.together([&] {
        change();
        retimed.photos = day::retime(book);
        day::link_all(book);
    });
    retimed.links = link_changes(before, links_now(book));
    return retimed;
}

void answer(const Context& context, book::CameraId camera, const std::string& words, const Retimed& retimed) {
    if (context.json) {
        print_json({{"camera", camera.value},
                    {"photos_retimed", retimed.photos},
                    {"changed_links", to_json(retimed.links)}});
        return;
    }
    fmt::print("camera {} {}; {} now another time\n", camera.value, words,
               retimed.photos == 1 ? "1 photo has" : fmt::format("{} photos have", retimed.photos));
    print_link_changes(retimed.links);
}

void name(const Typed& typed, const Context& context) {
    auto book = open_book(context, book::Access::write, "cameras name");
    const auto camera = book::camera_from_typed(book, typed.camera);
    book::name_camera(book, camera, typed.name, book::who_is_working(book));
    if (context.json) {
        print_json({{"camera", camera.value}, {"name", typed.name}});
        return;
    }
    fmt::print("camera {} {}\n", camera.value,
               typed.name.empty() ? "has no name any more" : "is called " + book::printable_name(typed.name));
}

void join(const Typed& typed, const Context& context) {
    auto book = open_book(context, book::Access::write, "cameras join");
    const auto one = book::own_camera_from_typed(book, typed.camera);
    const auto into = book::camera_from_typed(book, typed.other);
    const auto retimed =
        retimed_by(book, [&] { book::join_cameras(book, one, into, book::who_is_working(book)); });
    answer(context, one, fmt::format("is camera {}", into.value), retimed);
}

void split(const Typed& typed, const Context& context) {
    auto book = open_book(context, book::Access::write, "cameras split");
    const auto camera = book::own_camera_from_typed(book, typed.camera);
    const auto retimed =
        retimed_by(book, [&] { book::split_camera(book, camera, book::who_is_working(book)); });
    answer(context, camera, "is a camera of its own again", retimed);
}

std::optional<double> local_time_from(std::string text) {
    if (text.size() >= 11 && text[10] == ' ') {
        text[10] = 'T';
    }
    constexpr std::size_t to_the_minute = 16;
    return photo::seconds_of(text.size() == to_the_minute ? text + ":00" : text);
}

// The photo of the camera that a word on its clock is about: a named one, the nearest to a time, or the
// newest.
book::PhotoNumber photo_meant(const book::Book& book, book::CameraId camera, const std::string& at) {
    auto photos = book::all_photos(book);
    std::erase_if(photos, [&](const book::Photo& p) { return p.camera != camera; });
    if (photos.empty()) {
        throw WrongUse(fmt::format("camera {} has no photos yet: say it after its first dump", camera.value));
    }
    const auto seconds = local_time_from(at);
    if (!at.empty() && !seconds) {
        const bool number = at.find_first_not_of("pP0123456789") == std::string::npos;
        if (!number) {
            throw WrongUse(
                fmt::format("\"{}\" is no time: type it as \"2026-03-20 09:00\", or name a photo (p12)",
                            book::printable_name(at)));
        }
        return book::photo_from_typed(book, at);
    }
    const auto nearer = [&](const book::Photo& a, const book::Photo& b) {
        return seconds ? std::abs(a.corrected_seconds - *seconds) < std::abs(b.corrected_seconds - *seconds)
                       : std::tie(b.corrected_seconds, b.number) < std::tie(a.corrected_seconds, a.number);
    };
    return std::min_element(photos.begin(), photos.end(), nearer)->number;
}

double span_typed(const std::string& text, const char* what) {
    const auto seconds = book::time_span_from(text);
    if (!seconds) {
        throw WrongUse(fmt::format(
            "\"{}\" does not say {}: type minutes and seconds as 7:03, hours as 1:00:00, or seconds as 40s",
            book::printable_name(text), what));
    }
    return *seconds;
}

void say(const Typed& typed, const Context& context, bool ahead) {
    if (typed.clear == !typed.by.empty()) {
        throw WrongUse("say by how much, for example 7:03, or --clear to take back what was said");
    }
    auto book = open_book(context, book::Access::write, "cameras");
    const auto camera = book::camera_from_typed(book, typed.camera);
    const auto who = book::who_is_working(book);
    if (typed.clear) {
        const auto retimed = retimed_by(book, [&] { book::take_back_clock_words(book, camera, who); });
        answer(context, camera, "has no person's word on its clock any more", retimed);
        return;
    }
    book::ClockWord word;
    word.camera = camera;
    word.ahead_s = (ahead ? 1 : -1) * span_typed(typed.by, "by how much");
    word.u_s =
        std::max(1.0, typed.give_or_take.empty() ? 1.0 : span_typed(typed.give_or_take, "how sure it is"));
    word.photo = photo_meant(book, camera, typed.at);
    word.who = who;
    const auto retimed = retimed_by(book, [&] { book::say_clock(book, word); });
    answer(context, camera, fmt::format("is {} at {}", book::words_of(word), word.photo.text()), retimed);
}

void add_saying(CLI::App& cameras, Context& context, const std::shared_ptr<Typed>& typed,
                const char* command_name, bool ahead) {
    auto* command = add_command(
        cameras, context, command_name,
        fmt::format("say by how much a camera's clock is {} the right time", ahead ? "ahead of" : "behind"));
    command->add_option("camera", typed->camera, "number or name of the camera")->required();
    command->add_option("by", typed->by, "7:03 (minutes and seconds), 1:00:00 or 40s");
    command->add_option(
        "--at", typed->at,
        "when that was so: a photo (p12), or the workshop's time (default: its newest photo)");
    command->add_option("--give-or-take", typed->give_or_take, "how exact that is (default: 0:01)");
    command->add_flag("--clear", typed->clear, "take back all that was said of its clock");
    command->callback([typed, &context, ahead] { say(*typed, context, ahead); });
}

}  // namespace

void add_cameras(CLI::App& app, Context& context) {
    auto typed = std::make_shared<Typed>();
    auto* cameras = add_command(app, context, "cameras", "the cameras, and how wrong their clocks are");
    cameras->callback([cameras, &context] {
        if (cameras->get_subcommands().empty()) {
            list(context);
        }
    });

    auto* naming = add_command(*cameras, context, "name", "call a camera by a name");
    naming->add_option("camera", typed->camera, "number or name of the camera")->required();
    naming->add_option("name", typed->name, "its name; \"\" takes it back")->required();
    naming->callback([typed, &context] { name(*typed, context); });

    auto* joining = add_command(*cameras, context, "join", "two numbers are one camera");
    joining->add_option("camera", typed->camera, "the one")->required();
    joining->add_option("into", typed->other, "the one it is")->required();
    joining->callback([typed, &context] { join(*typed, context); });

    auto* splitting = add_command(*cameras, context, "split", "take a join back");
    splitting->add_option("camera", typed->camera, "number of the camera that was joined")->required();
    splitting->callback([typed, &context] { split(*typed, context); });

    auto* past = add_command(*cameras, context, "history", "what was said and found of a camera");
    past->add_option("camera", typed->camera, "number or name of the camera")->required();
    past->callback([typed, &context] { show_history(*typed, context); });

    add_saying(*cameras, context, typed, "ahead", true);
    add_saying(*cameras, context, typed, "behind", false);
}

}  // namespace stripbook::cli
