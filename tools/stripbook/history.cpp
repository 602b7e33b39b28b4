// stripbook history: a part's whole life in order, or the book's last changes.
#include <fmt/format.h>

#include <memory>

#include "book/life.h"
#include "book/parts.h"
#include "book/paths.h"
#include "book/tag_meanings.h"
#include "book/unsettled_groups.h"
#include "command.h"
#include "json_text.h"
#include "show_part.h"
#include "typed_words.h"

namespace stripbook::cli {

namespace {

struct Typed {
    std::string tag;
    std::string last = "20";
};

nlohmann::json to_json(const book::LifeEvent& event) {
    auto photos = nlohmann::json::array();
    for (const auto& photo : event.photos) {
        photos.push_back(photo.text());
    }
    nlohmann::json out{{"when", event.when}, {"who", event.who},
                       {"what", event.what}, {"words", event.sentence},
                       {"photos", photos},   {"kind", event.change ? "change" : "photos"}};
    if (event.change) {
        out.update({{"at", event.change->at},
                    {"field", event.change->field},
                    {"before", event.change->before},
                    {"after", event.change->after},
                    {"how", event.change->how}});
    }
    return out;
}

void print(const book::LifeEvent& event, bool with_record) {
    const std::string photos = event.photos.empty() ? "" : ": " + book::photo_list(event.photos);
    const std::string how = event.change && !event.change->how.empty()
                                ? fmt::format("  [{}]", book::printable_name(event.change->how))
                                : "";
    fmt::print("{:<20}  {}{}{}{}{}\n", event.when,
               event.who.empty() ? "" : book::printable_name(event.who) + ": ",
               with_record ? book::printable_name(event.what) + ": " : "", event.sentence, photos, how);
}

void history(const Typed& typed, const Context& context) {
    const int most = typed_whole(typed.last, "--last");
    const auto book = open_book(context, book::Access::read, "history");
    std::vector<book::LifeEvent> events;
    std::string heading;
    if (typed.tag.empty()) {
        events = book::last_events(book, most);
    } else {
        const auto tag = number::TagNumber::from_typed(typed.tag, book.code());
        events = book::life_of(book, tag);
        const auto part = book::find_part(book, tag);
        const auto one = book::merged_into(book, tag);
        heading = part  ? heading_of(*part)
                  : one ? fmt::format("{}  is one part with {}", tag.text(), one->text())
                        : tag.text() + "  no part of the book now";
    }
    if (context.json) {
        auto list = nlohmann::json::array();
        for (const auto& event : events) {
            list.push_back(to_json(event));
        }
        print_json({{"events", list}});
        return;
    }
    if (!heading.empty()) {
        fmt::print("{}\n", heading);
    }
    for (const auto& event : events) {
        print(event, typed.tag.empty());
    }
    if (events.empty()) {
        fmt::print("nothing was changed in this book yet\n");
    }
}

}  // namespace

void add_history(CLI::App& app, Context& context) {
    auto typed = std::make_shared<Typed>();
    auto* command = add_command(app, context, "history",
                                "a part's whole life in order; without a tag the book's last changes");
    command->add_option("tag", typed->tag, "tag number: PET-00417-D, PET-00417 or 417");
    command->add_option("--last", typed->last, "without a tag: how many changes (20)");
    command->callback([typed, &context] { history(*typed, context); });
}

}  // namespace stripbook::cli
