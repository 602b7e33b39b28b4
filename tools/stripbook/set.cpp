// stripbook set: the settings of a book, all in one place.
#include <fmt/format.h>

#include <memory>
#include <nlohmann/json.hpp>
#include <vector>

#include "book/paths.h"
#include "book/settings.h"
#include "command.h"
#include "day/read_day.h"
#include "day/retime.h"
#include "errors.h"
#include "link_changes.h"

namespace stripbook::cli {

namespace {

void list(const Context& context) {
    const auto book = open_book(context, book::Access::read, "set");
    if (context.json) {
        auto all = nlohmann::json::object();
        for (const auto& s : book::all_settings(book)) {
            all[s.name] = s.value;
        }
        fmt::print("{}\n", all.dump(2));
        return;
    }
    for (const auto& s : book::all_settings(book)) {
        fmt::print("{:<12} {:<14} {}{}\n", s.name,
                   s.value.empty() ? "(empty)" : book::printable_name(s.value), s.meaning,
                   s.is_default ? " [default]" : "");
    }
}

// Clocks without a UTC offset show the workshop's time.
std::size_t retime_all(book::Book& book) {
    const std::size_t retimed = day::retime(book);
    day::link_all(book);
    return retimed;
}

std::string photos_have(std::size_t count) {
    return count == 1 ? "1 photo has" : fmt::format("{} photos have", count);
}

// "link time 5": the last word is the value, the ones before it are the name.
void set(const std::vector<std::string>& words, const Context& context) {
    if (words.size() < 2) {
        throw WrongUse(
            fmt::format("say what \"{}\" is to be, for example: stripbook set link time 5", words.front()));
    }
    const std::string name = fmt::format("{}", fmt::join(words.begin(), words.end() - 1, " "));
    auto book = open_book(context, book::Access::write, "set");
    std::size_t retimed = 0;
    const auto before = links_now(book);
    book.together([&] {
        book::set_setting(book, name, words.back(), book::who_is_working(book));
        retimed = name == "time zone" ? retime_all(book) : 0;
    });
    fmt::print("{} is {}{}\n", name, book::printable_name(book::setting(book, name)),
               retimed == 0 ? "" : fmt::format("; {} now another time", photos_have(retimed)));
    print_link_changes(link_changes(before, links_now(book)));
}

}  // namespace

void add_set(CLI::App& app, Context& context) {
    auto words = std::make_shared<std::vector<std::string>>();
    auto* command =
        add_command(app, context, "set", "show the book's settings, or set one: stripbook set link time 5");
    command->add_option("setting", *words, "name and value");
    command->callback([words, &context] { words->empty() ? list(context) : set(*words, context); });
}

}  // namespace stripbook::cli
