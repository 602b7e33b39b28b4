// stripbook parts merge, parts split, tag move, tag swap, tag list: mistakes that people make with tags.
#include <fmt/format.h>

#include <functional>
#include <memory>

#include "book/clock.h"
#include "book/inspection_csv.h"
#include "book/links.h"
#include "book/merge_parts.h"
#include "book/move_tag.h"
#include "book/parts.h"
#include "book/paths.h"
#include "book/photos.h"
#include "book/settings.h"
#include "book/split_part.h"
#include "book/tag_meanings.h"
#include "command.h"
#include "day/read_day.h"
#include "errors.h"
#include "json_text.h"
#include "link_changes.h"
#include "photo/metadata.h"
#include "show_part.h"
#include "typed_words.h"

namespace stripbook::cli {

namespace {

struct Typed {
    std::string one, other;
    std::string since, photos, quantity, name;
};

// "2026-05-03", "2026-05-03 10:00": workshop time as if it were UTC.
double since_typed(const std::string& text) {
    constexpr std::size_t to_days = 10;
    constexpr std::size_t to_minutes = 16;
    std::string full = text.size() == to_days ? text + "T00:00" : text;
    if (full.size() == to_minutes) {
        full[to_days] = 'T';
        full += ":00";
    }
    const auto seconds = photo::seconds_of(full);
    if (!seconds) {
        throw WrongUse(fmt::format("--since {}: write the day as 2026-05-03, or \"2026-05-03 10:00\"",
                                   book::printable_name(text)));
    }
    return *seconds;
}

// Changes the record and links anew, all or nothing. Returns the links that changed.
LinkChanges changed(book::Book& book, const std::function<void(const std::string& who)>& change) {
    const auto before = links_now(book);
    const auto who = book::who_is_working(book);
    book.together([&] {
        change(who);
        day::link_all(book);
    });
    return link_changes(before, links_now(book));
}

void tell_links(const LinkChanges& changes) {
    fmt::print("  {} changed\n", counted(changes.size(), "link", "links"));
    print_link_changes(changes);
}

void merge(const Typed& typed, const Context& context) {
    auto book = open_book(context, book::Access::write, "parts merge");
    const auto kept = book::part_from_typed(book, typed.one);
    const auto other = number::TagNumber::from_typed(typed.other, book.code());
    std::vector<std::string> lost;
    const auto changes =
        changed(book, [&](const std::string& who) { lost = book::merge_parts(book, kept, other, who); });
    if (context.json) {
        print_json({{"tag", kept.text()},
                    {"also", other.text()},
                    {"not_taken_over", lost},
                    {"changed_links", to_json(changes)}});
        return;
    }
    fmt::print("{}  is one part with {}, whose number means it from now on\n",
               heading_of(book::part_or_refusal(book, kept)), other.text());
    for (const auto& words : lost) {
        fmt::print("  not taken over from {}: {}\n", other.text(), book::printable_name(words));
    }
    tell_links(changes);
}

// The photos named, or all of the part since a time.
std::vector<book::PhotoNumber> photos_to_split(const book::Book& book, const number::TagNumber& from,
                                               const Typed& typed) {
    if (!typed.photos.empty() && !typed.since.empty()) {
        throw WrongUse("name the photos with --photos, or a time with --since, not both");
    }
    std::vector<book::PhotoNumber> photos;
    if (!typed.photos.empty()) {
        photos = book::photos_from_typed(book, typed.photos);
        for (const auto& photo : photos) {
            static_cast<void>(book::photo_from_typed(book, photo.text()));  // says which is unknown
        }
    }
    if (!typed.since.empty()) {
        const double since = since_typed(typed.since);
        for (const auto& link : book::links_of(book, from)) {
            const auto photo = book::find_photo(book, link.photo);
            if (photo && photo->corrected_seconds >= since) {
                photos.push_back(link.photo);
            }
        }
    }
    return photos;
}

void split(const Typed& typed, const Context& context) {
    auto book = open_book(context, book::Access::write, "parts split");
    book::Split plan{book::part_from_typed(book, typed.one),
                     number::TagNumber::from_typed(typed.other, book.code()),
                     {},
                     std::nullopt,
                     typed.name};
    plan.photos = photos_to_split(book, plan.from, typed);
    if (!typed.quantity.empty()) {
        plan.quantity = typed_whole(typed.quantity, "--quantity");
    }
    const auto changes = changed(book, [&](const std::string& who) { book::split_part(book, plan, who); });
    if (context.json) {
        print_json({{"tag", plan.from.text()},
                    {"new", plan.to.text()},
                    {"photos", plan.photos.size()},
                    {"changed_links", to_json(changes)}});
        return;
    }
    fmt::print("{}  split from {}, {} with it\n", heading_of(book::part_or_refusal(book, plan.to)),
               plan.from.text(), counted(plan.photos.size(), "photo", "photos"));
    tell_links(changes);
    fmt::print("  what was found, measured by gauge or decided stays with {}: look it through\n",
               plan.from.text());
}

void answer_move(const Context& context, const number::TagNumber& tag, const number::TagNumber& to,
                 const Typed& typed, const LinkChanges& changes) {
    if (context.json) {
        print_json({{"tag", tag.text()},
                    {"part", to.text()},
                    {"since", typed.since},
                    {"changed_links", to_json(changes)}});
        return;
    }
    tell_links(changes);
    fmt::print(
        "  inspection entries and stages of that day or later went along; path, work and storage stay where "
        "they are: look them through\n");
}

void move(const Typed& typed, const Context& context) {
    auto book = open_book(context, book::Access::write, "tag move");
    const auto tag = number::TagNumber::from_typed(typed.one, book.code());
    const auto to = book::part_from_typed(book, typed.other);
    const double since = since_typed(typed.since);
    const auto changes =
        changed(book, [&](const std::string& who) { book::move_tag(book, tag, to, since, who); });
    if (!context.json) {
        fmt::print("the tag {} means {} since {}\n", tag.text(), heading_of(book::part_or_refusal(book, to)),
                   book::printable_name(typed.since));
    }
    answer_move(context, tag, to, typed, changes);
}

void swap(const Typed& typed, const Context& context) {
    auto book = open_book(context, book::Access::write, "tag swap");
    const auto one = book::part_from_typed(book, typed.one);
    const auto other = book::part_from_typed(book, typed.other);
    const double since = since_typed(typed.since);
    const auto changes =
        changed(book, [&](const std::string& who) { book::swap_tags(book, one, other, since, who); });
    if (!context.json) {
        fmt::print("the tags {} and {} hang on each other's parts since {}\n", one.text(), other.text(),
                   book::printable_name(typed.since));
    }
    answer_move(context, one, other, typed, changes);
}

void list(const Context& context) {
    const auto book = open_book(context, book::Access::read, "tag list");
    auto all = nlohmann::json::array();
    for (const auto& meaning : book::tag_meanings(book)) {
        const std::string since =
            meaning.from_s == book::since_ever ? "" : book::time_words(meaning.from_s).value_or("");
        all.push_back({{"tag", meaning.tag.text()}, {"part", meaning.part.text()}, {"since", since}});
        if (!context.json) {
            fmt::print("{}  means {}{}\n", meaning.tag.text(), meaning.part.text(),
                       since.empty() ? ": one part tagged twice" : " since " + since);
        }
    }
    if (context.json) {
        print_json({{"meanings", all}});
    } else if (all.empty()) {
        fmt::print("every tag means the part it was made for\n");
    }
}

}  // namespace

void add_parts_mistakes(CLI::App& parts, Context& context) {
    auto t = std::make_shared<Typed>();
    auto* merge_command = add_command(parts, context, "merge", "a part was tagged twice: both are one");
    merge_command->add_option("tag", t->one, "the number that stays")->required();
    merge_command->add_option("other", t->other, "the number that means the same part from now on")
        ->required();
    merge_command->callback([t, &context] { merge(*t, context); });

    auto* split_command = add_command(parts, context, "split", "a bag or part was split in two");
    split_command->add_option("tag", t->one, "the part that was split")->required();
    split_command->add_option("new", t->other, "the tag of the other piece")->required();
    split_command->add_option("--photos", t->photos, "photos that show the other piece: p12,p13");
    split_command->add_option("--since", t->since, "or all photos since then: \"2026-05-03 10:00\"");
    split_command->add_option("--quantity", t->quantity, "how many of what is present go along");
    split_command->add_option("--name", t->name, "name of the other piece (default: the same)");
    split_command->callback([t, &context] { split(*t, context); });
}

void add_tag(CLI::App& app, Context& context) {
    auto* tag = app.add_subcommand("tag", "tags that were hung on the wrong part");
    tag->require_subcommand(1);
    auto t = std::make_shared<Typed>();
    auto* move_command = add_command(*tag, context, "move", "a tag hangs on another part since some day");
    move_command->add_option("tag", t->one, "the number on the tag")->required();
    move_command->add_option("part", t->other, "the part it hangs on")->required();
    move_command->add_option("--since", t->since, "2026-05-03, or \"2026-05-03 10:00\"")->required();
    move_command->callback([t, &context] { move(*t, context); });
    auto* swap_command = add_command(*tag, context, "swap", "two tags were mixed up since some day");
    swap_command->add_option("tag", t->one, "one tag")->required();
    swap_command->add_option("other", t->other, "the other tag")->required();
    swap_command->add_option("--since", t->since, "2026-05-03, or \"2026-05-03 10:00\"")->required();
    swap_command->callback([t, &context] { swap(*t, context); });
    auto* list_command = add_command(*tag, context, "list", "tags that mean another part, and since when");
    list_command->callback([&context] { list(context); });
}

}  // namespace stripbook::cli
