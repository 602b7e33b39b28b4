// stripbook dump: cards into the book at day's end, verified, read and linked, and told in about ten lines.
#include <fmt/format.h>

#include <algorithm>
#include <cstdio>
#include <memory>
#include <set>
#include <vector>

#include "book/paths.h"
#include "book/photos.h"
#include "book/settings.h"
#include "command.h"
#include "day/day_record.h"
#include "day/measure_day.h"
#include "day/read_day.h"
#include "day/reading_run.h"
#include "dump/take_in.h"
#include "errors.h"
#include "json_text.h"
#include "link_changes.h"
#include "summary.h"
#include "terminal.h"

namespace stripbook::cli {

namespace {

struct Typed {
    std::vector<std::string> cards;
    std::string second;
};

// A photo is read while the next file is copied.
void begin_reading(const book::Book& book, const dump::TakenFile& file, day::ReadingRun& reading) {
    const auto photo = file.original ? book::photo_of_original(book, *file.original) : std::nullopt;
    if (photo && photo->read_state == book::ReadState::not_yet) {
        reading.add(*photo);
    }
    reading.go_on();
}

dump::CardResult copy_card(book::Book& book, const std::string& card, const Typed& typed,
                           dump::FileDoor& door, day::ReadingRun& reading) {
    Progress progress("Copying", true);
    dump::TakeInOptions options;
    if (!typed.second.empty()) {
        options.second_folder = typed.second;
    }
    options.who = book::who_is_working(book);
    options.progress = [&](const dump::Progress& p) { progress.show(p.bytes_done, p.bytes_all); };
    options.stop = stop_requested;
    options.taken = [&](const dump::TakenFile& file) { begin_reading(book, file, reading); };
    return dump::take_in(book, card, options, door);
}

// All cards. One that fails does not keep the others, or what is in already, from being read.
std::vector<dump::CardResult> copy_and_read(book::Book& book, const Typed& typed,
                                            std::vector<std::string>& failures) {
    Progress progress("Reading", false);
    day::ReadOptions options;
    options.progress = [&](const day::ReadProgress& p) { progress.show(p.done, p.all); };
    options.stop = stop_requested;
    day::ReadingRun reading(book, options,
                            [&](const book::Photo& photo, const day::PhotoReading& read, bool /*came_back*/) {
                                day::keep_reading(book, photo, read);
                            });
    dump::FileDoor door;
    std::vector<dump::CardResult> results;
    for (const auto& card : typed.cards) {
        try {
            results.push_back(copy_card(book, card, typed, door, reading));
        } catch (const OutsideError& e) {
            failures.emplace_back(e.what());
        }
    }
    reading.finish();
    day::read_unread_photos(book, options);  // of an earlier dump that was cut short
    return results;
}

day::MeasureOutcome measure_photos(book::Book& book) {
    Progress progress("Measuring", false);
    day::MeasureOptions options;
    options.progress = [&](const day::ReadProgress& p) { progress.show(p.done, p.all); };
    options.stop = stop_requested;
    return day::measure_parts(book, {}, options);
}

// Photos that were in the book and read before: what a late card changes of their links has to be told.
std::set<book::PhotoNumber> photos_read(const book::Book& book) {
    std::set<book::PhotoNumber> photos;
    for (const auto& photo : book::all_photos(book)) {
        if (photo.read_state != book::ReadState::not_yet) {
            photos.insert(photo.number);
        }
    }
    return photos;
}

void dump(const Typed& typed, Context& context) {
    auto book = open_book(context, book::Access::write, "dump");
    const auto earlier = photos_read(book);
    const auto links_before = links_now(book);
    std::vector<std::string> failures;
    const std::vector<dump::CardResult> results = copy_and_read(book, typed, failures);
    const day::LinkOutcome linking = day::link_all(book);
    LinkChanges changes = link_changes(links_before, links_now(book));
    changes.keep_only(earlier);
    const day::MeasureOutcome measuring = measure_photos(book);
    const day::DayRecord day = day::gather_day(book, results);
    if (context.json) {
        auto document = to_json(day, linking, measuring);
        document["failures"] = failures;
        document["changed_links"] = to_json(changes);
        print_json(document);
    } else {
        print_summary(day, linking, measuring, changes, !typed.second.empty());
    }
    for (const auto& failure : failures) {
        fmt::print(stderr, "stripbook: {}\n", failure);
    }
    const int of_day = measuring.contradictions.empty() ? done : needs_a_person;
    context.status = failures.empty() ? std::max(status_of(day), of_day) : failed;
}

}  // namespace

void add_dump(CLI::App& app, Context& context) {
    auto typed = std::make_shared<Typed>();
    auto* command =
        add_command(app, context, "dump",
                    "take camera cards in: copy and prove every file, read the tags, link the photos");
    command->add_option("card", typed->cards, "a camera card, or any folder with photos")->required();
    command->add_option("--second", typed->second,
                        "write and prove a second copy of every file in this folder");
    command->callback([typed, &context] { dump(*typed, context); });
}

}  // namespace stripbook::cli
