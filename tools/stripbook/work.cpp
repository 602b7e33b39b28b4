// stripbook work: the work to do on a part, and that it was done.
#include <fmt/format.h>

#include <memory>
#include <vector>

#include "book/part_path.h"
#include "book/parts.h"
#include "book/paths.h"
#include "book/settings.h"
#include "book/tag_meanings.h"
#include "command.h"
#include "errors.h"
#include "json_record.h"
#include "json_text.h"
#include "print_job.h"
#include "show_part.h"
#include "typed_words.h"

namespace stripbook::cli {

namespace {

struct Typed {
    std::string tag, work, number, hours, by, on, why;
};

void show(const book::Book& book, const number::TagNumber& tag, const Context& context) {
    const auto works = book::works_of(book, tag);
    if (context.json) {
        auto list = nlohmann::json::array();
        for (const auto& work : works) {
            list.push_back(to_json(work));
        }
        print_json({{"tag", tag.text()}, {"work", list}});
        return;
    }
    fmt::print("{}\n", heading_of(book::part_or_refusal(book, tag)));
    for (const auto& work : works) {
        fmt::print("  [{}] {}\n", work.number, book::printable_name(book::words_of(work)));
    }
    if (works.empty()) {
        fmt::print("  no work is written down\n");
    }
}

// The number typed, or the only open work.
std::int64_t number_of(const book::Book& book, const number::TagNumber& tag, const Typed& t) {
    if (!t.number.empty()) {
        return typed_whole(t.number, "work");
    }
    std::vector<std::int64_t> open;
    for (const auto& work : book::works_of(book, tag)) {
        if (work.is_open()) {
            open.push_back(work.number);
        }
    }
    if (open.size() != 1) {
        throw WrongUse(
            fmt::format("{} has {} of open work: say which by its number, see stripbook work list {}",
                        tag.text(), counted(open.size(), "piece", "pieces"), tag.text()));
    }
    return open.front();
}

void add(const Typed& t, const Context& context) {
    auto book = open_book(context, book::Access::write, "work add");
    const auto tag = book::part_from_typed(book, t.tag);
    const auto hours = t.hours.empty() ? std::nullopt : std::optional(typed_hours(t.hours));
    book::add_work(book, tag, t.work, hours, book::who_is_working(book));
    show(book, tag, context);
}

void finish(const Typed& t, const Context& context) {
    auto book = open_book(context, book::Access::write, "work done");
    const auto tag = book::part_from_typed(book, t.tag);
    static_cast<void>(book::part_or_refusal(book, tag));
    book::WorkEnd end;
    end.done_on = t.on.empty() ? today() : typed_day(t.on, "--on");
    end.done_by = t.by.empty() ? book::who_is_working(book) : t.by;
    end.hours_taken = t.hours.empty() ? std::nullopt : std::optional(typed_hours(t.hours));
    book::end_work(book, tag, number_of(book, tag, t), end, book::who_is_working(book));
    show(book, tag, context);
}

void drop(const Typed& t, const Context& context) {
    if (t.why.empty()) {
        throw WrongUse("say why it is not to be done after all: --why \"...\"");
    }
    auto book = open_book(context, book::Access::write, "work drop");
    const auto tag = book::part_from_typed(book, t.tag);
    static_cast<void>(book::part_or_refusal(book, tag));
    book::WorkEnd end;
    end.dropped_why = t.why;
    book::end_work(book, tag, number_of(book, tag, t), end, book::who_is_working(book));
    show(book, tag, context);
}

void list(const Typed& t, const Context& context) {
    const auto book = open_book(context, book::Access::read, "work list");
    const auto tag = book::part_from_typed(book, t.tag);
    show(book, tag, context);
}

CLI::App* add_for_part(CLI::App& work, Context& context, const std::shared_ptr<Typed>& t,
                       const std::string& name, const std::string& what) {
    auto* command = add_command(work, context, name, what);
    command->add_option("tag", t->tag, "tag number: PET-00417-D, PET-00417 or 417")->required();
    return command;
}

}  // namespace

void add_work(CLI::App& app, Context& context) {
    auto t = std::make_shared<Typed>();
    auto* work = app.add_subcommand("work", "the work to do on a part: add, done, drop, list");
    work->require_subcommand(1);

    auto* add_one = add_for_part(*work, context, t, "add", "write down work to do");
    add_one->add_option("work", t->work, "what is to be done: \"bush and ream\"")->required();
    add_one->add_option("--hours", t->hours, "planned: 3 or 1.5");
    add_one->callback([t, &context] { add(*t, context); });

    auto* done_one = add_for_part(*work, context, t, "done", "work that was done");
    done_one->add_option("number", t->number, "the work's number (default: the only open one)");
    done_one->add_option("--hours", t->hours, "that it took");
    done_one->add_option("--by", t->by, "who did it (default: who is at work)");
    done_one->add_option("--on", t->on, "the day, 2026-11-25 (default: today)");
    done_one->callback([t, &context] { finish(*t, context); });

    auto* drop_one = add_for_part(*work, context, t, "drop", "work that is not to be done after all");
    drop_one->add_option("number", t->number, "the work's number (default: the only open one)");
    drop_one->add_option("--why", t->why, "the reason");
    drop_one->callback([t, &context] { drop(*t, context); });

    auto* list_all = add_for_part(*work, context, t, "list", "all work on a part");
    list_all->callback([t, &context] { list(*t, context); });
}

}  // namespace stripbook::cli
