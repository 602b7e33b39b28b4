// stripbook undo: takes the last change by a person back, or says which could be.
#include <fmt/format.h>

#include <algorithm>
#include <memory>

#include "book/acts.h"
#include "book/number_text.h"
#include "book/paths.h"
#include "book/settings.h"
#include "command.h"
#include "day/read_day.h"
#include "errors.h"
#include "json_text.h"
#include "link_changes.h"

namespace stripbook::cli {

namespace {

struct Typed {
    std::string number;
    bool list = false;
    std::string by;
};

constexpr const char* what_cannot =
    "cards that were taken in, what was read from them and tags that were printed are never undone";

std::string value_words(const std::string& value) {
    return value.empty() ? "nothing" : fmt::format("\"{}\"", book::printable_name(value));
}

nlohmann::json to_json(const book::Act& act) {
    return {{"act", act.number},
            {"at", act.at},
            {"who", act.who},
            {"command", act.command},
            {"changes", act.changes}};
}

void list(const Context& context) {
    const auto book = open_book(context, book::Access::read, "undo");
    const auto acts = book::acts(book);
    if (context.json) {
        auto all = nlohmann::json::array();
        for (const auto& act : acts) {
            all.push_back(to_json(act));
        }
        print_json({{"acts", all}});
        return;
    }
    for (const auto& act : acts) {
        fmt::print("{:>5}  {}  {}: {}  ({})\n", act.number, act.at, book::printable_name(act.who),
                   book::printable_name(act.command),
                   counted(static_cast<std::size_t>(act.changes), "change", "changes"));
    }
    fmt::print("{}; {}\n",
               acts.empty() ? "there is nothing to take back"
                            : "stripbook undo takes back the first of these; stripbook undo NUMBER that one",
               what_cannot);
}

// The last one, unless something came later that a person may mean and that cannot be taken back.
book::Act last_act(const book::Book& book, const std::vector<book::Act>& acts) {
    if (acts.empty()) {
        throw WrongUse(
            fmt::format("there is nothing to take back: no change by a person is kept; {}", what_cannot));
    }
    const auto later = book::not_to_be_undone_since(book, acts.front());
    if (!later.empty()) {
        throw WrongUse(fmt::format(
            "the last thing done cannot be taken back: {}. If you mean the change before it, \"{}\": "
            "stripbook undo {}",
            later.back(), acts.front().command, acts.front().number));
    }
    return acts.front();
}

book::Act wanted_act(const book::Book& book, const Typed& typed) {
    const auto acts = book::acts(book);
    if (typed.number.empty()) {
        return last_act(book, acts);
    }
    const auto number = book::whole_from(typed.number);
    const auto act = std::find_if(acts.begin(), acts.end(),
                                  [&](const book::Act& a) { return number && a.number == *number; });
    if (act == acts.end()) {
        throw WrongUse(fmt::format("there is no change {} to take back: see stripbook undo --list",
                                   book::printable_name(typed.number)));
    }
    return *act;
}

void print_changes(const std::vector<book::Change>& changes) {
    constexpr std::size_t shown = 20;
    for (std::size_t i = 0; i < std::min(shown, changes.size()); ++i) {
        const auto& c = changes[i];
        fmt::print("  {}: {} is {} again, not {}\n", book::printable_name(c.what),
                   book::printable_name(c.field), value_words(c.before), value_words(c.after));
    }
    if (changes.size() > shown) {
        fmt::print("  and {} more\n", changes.size() - shown);
    }
}

void undo(const Typed& typed, const Context& context) {
    auto book = open_book(context, book::Access::write, "undo");
    const auto act = wanted_act(book, typed);
    const auto changes = book::changes_of(book, act);
    const auto before = links_now(book);
    book.together([&] {
        book::take_back(book, act, typed.by.empty() ? book::who_is_working(book) : typed.by);
        day::link_all(book);
    });
    const auto links = link_changes(before, links_now(book));
    if (context.json) {
        auto list = nlohmann::json::array();
        for (const auto& c : changes) {
            list.push_back({{"what", c.what}, {"field", c.field}, {"before", c.after}, {"after", c.before}});
        }
        auto answer = to_json(act);
        answer["changes"] = list;
        answer["changed_links"] = to_json(links);
        print_json(answer);
        return;
    }
    fmt::print("taken back: {} ({}, {})\n", book::printable_name(act.command), book::printable_name(act.who),
               act.at);
    print_changes(changes);
    print_link_changes(links);
}

}  // namespace

void add_undo(CLI::App& app, Context& context) {
    auto typed = std::make_shared<Typed>();
    auto* command = add_command(app, context, "undo", "take back the last change by a person");
    command->add_option("number", typed->number, "a change that --list shows, instead of the last one");
    command->add_flag("--list", typed->list, "the changes that could be taken back, newest first");
    command->add_option("--by", typed->by, "who takes it back");
    command->callback([typed, &context] { typed->list ? list(context) : undo(*typed, context); });
}

}  // namespace stripbook::cli
