// stripbook link, unlink: a person's word on which part a photo belongs to. It stays, and the rest follows
// from it.
#include <fmt/format.h>

#include <memory>

#include "book/links.h"
#include "book/parts.h"
#include "book/photos.h"
#include "book/settings.h"
#include "book/tag_meanings.h"
#include "command.h"
#include "day/read_day.h"
#include "json_text.h"
#include "link_changes.h"
#include "show_part.h"

namespace stripbook::cli {

namespace {

struct Typed {
    std::string photo;
    std::string tag;
};

void say_word(const Typed& typed, const Context& context, bool belongs) {
    auto book = open_book(context, book::Access::write, belongs ? "link" : "unlink");
    const auto photo = book::photo_from_typed(book, typed.photo);
    const auto tag = book::part_from_typed(book, typed.tag);
    const auto before = links_now(book);
    const auto who = book::who_is_working(book);
    book.together([&] {
        belongs ? book::link_by_person(book, photo, tag, who) : book::unlink_by_person(book, photo, tag, who);
        day::link_all(book);
    });
    auto changes = link_changes(before, links_now(book));
    const bool as_it_was = !changes.take_out({photo, tag});
    if (context.json) {
        print_json({{"photo", photo.text()},
                    {"tag", tag.text()},
                    {"belongs", belongs},
                    {"others_changed", changes.size()}});
        return;
    }
    const auto part = book::find_part(book, tag);
    fmt::print("{} {} {}{}\n", photo.text(), belongs ? "belongs to" : "does not belong to",
               part ? heading_of(*part) : tag.text(), as_it_was ? " (as it was)" : "");
    print_link_changes(changes);
}

void add_word(CLI::App& app, Context& context, const std::string& name, const std::string& what,
              bool belongs) {
    auto typed = std::make_shared<Typed>();
    auto* command = add_command(app, context, name, what);
    command->add_option("photo", typed->photo, "photo number, for example p12")->required();
    command->add_option("tag", typed->tag, "tag number: PET-00417-D, PET-00417 or 417")->required();
    command->callback([typed, &context, belongs] { say_word(*typed, context, belongs); });
}

}  // namespace

void add_link(CLI::App& app, Context& context) {
    add_word(app, context, "link", "say that a photo belongs to a part", true);
    add_word(app, context, "unlink", "say that a photo does not belong to a part", false);
}

}  // namespace stripbook::cli
