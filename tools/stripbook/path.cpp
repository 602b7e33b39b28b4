// stripbook path: what happens to a part.
#include <fmt/format.h>

#include <memory>
#include <vector>

#include "book/number_text.h"
#include "book/part_file.h"
#include "book/parts.h"
#include "book/paths.h"
#include "book/settings.h"
#include "book/tag_meanings.h"
#include "command.h"
#include "errors.h"
#include "json_record.h"
#include "json_text.h"
#include "number/money.h"
#include "show_part.h"
#include "show_record.h"
#include "typed_words.h"

namespace stripbook::cli {

namespace {

struct Typed {
    std::string tag;
    std::vector<std::string> path;
    std::string why, by, from, price, ordered, received, drawing, material;
    std::string work, hours;

    [[nodiscard]] bool changes() const {
        return !path.empty() || !why.empty() || !from.empty() || !price.empty() || !ordered.empty() ||
               !received.empty() || !drawing.empty() || !material.empty() || !work.empty() || !hours.empty();
    }
};

std::optional<std::string> given(const std::string& text) {
    return text.empty() ? std::nullopt : std::optional(text);
}

book::PathChange change_from(const book::Book& book, const Typed& t) {
    book::PathChange change;
    if (!t.path.empty()) {
        change.path = book::in_small_letters(as_one_text(t.path));
    }
    change.why = given(t.why);
    change.by = t.by.empty() ? book::who_is_working(book) : t.by;
    change.from_whom = given(t.from);
    change.drawing = given(t.drawing);
    change.material = given(t.material);
    if (!t.price.empty()) {
        change.price_cents = number::cents_from_typed(t.price);
    }
    if (!t.ordered.empty()) {
        change.ordered_on = typed_day(t.ordered, "--ordered");
    }
    if (!t.received.empty()) {
        change.received_on = typed_day(t.received, "--received");
    }
    return change;
}

// Hours without words are hours of repairing or making.
void add_typed_work(book::Book& book, const number::TagNumber& tag, const Typed& t) {
    if (t.work.empty() && t.hours.empty()) {
        return;
    }
    const std::string path = book::part_or_refusal(book, tag).path;
    if (t.work.empty() && path != "repair" && path != "make") {
        throw WrongUse("--hours goes with --work: say what is to be done");
    }
    const auto hours = t.hours.empty() ? std::nullopt : std::optional(typed_hours(t.hours));
    book::add_work(book, tag, t.work.empty() ? path : t.work, hours, book::who_is_working(book));
}

void path(const Typed& t, const Context& context) {
    auto book = open_book(context, t.changes() ? book::Access::write : book::Access::read, "path");
    const auto tag = book::part_from_typed(book, t.tag);
    if (t.changes()) {
        book.together([&] {
            book::change_path(book, tag, change_from(book, t), book::who_is_working(book));
            add_typed_work(book, tag, t);
        });
    }
    const auto file = book::gather_part(book, tag);
    if (context.json) {
        auto answer = path_json(file);
        answer["tag"] = tag.text();
        print_json(answer);
        return;
    }
    fmt::print("{}\n", heading_of(file.part));
    print_path(file, book::setting(book, "currency"));
    for (const auto& line : book::what_blocks_refitting(file.part, file.path, file.works)) {
        fmt::print("  before it goes back: {}\n", book::printable_name(line));
    }
}

}  // namespace

void add_path(CLI::App& app, Context& context) {
    auto t = std::make_shared<Typed>();
    auto* command =
        add_command(app, context, "path", "what happens to a part: use again, repair, buy, make ...");
    command->add_option("tag", t->tag, "tag number: PET-00417-D, PET-00417 or 417")->required();
    command->add_option("path", t->path, fmt::format("{}", fmt::join(book::path_words, ", ")));
    command->add_option("--why", t->why, "the reason");
    command->add_option("--by", t->by, "who decided (default: who is at work)");
    command->add_option("--work", t->work, "work to do: \"bush and ream\"");
    command->add_option("--hours", t->hours, "its hours: 3 or 1.5");
    command->add_option("--from", t->from, "buy, or sent out: from whom");
    command->add_option("--price", t->price, "in the workshop's currency: 12.50");
    command->add_option("--ordered", t->ordered, "the day it was ordered or sent out: 2026-11-25, or today");
    command->add_option("--received", t->received, "the day it came: 2026-11-25, or today");
    command->add_option("--drawing", t->drawing, "make: to which drawing");
    command->add_option("--material", t->material, "make: of what");
    command->callback([t, &context] { path(*t, context); });
}

}  // namespace stripbook::cli
