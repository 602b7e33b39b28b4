// stripbook set: the settings of a book, all in one place.
#include <fmt/format.h>

#include <memory>
#include <nlohmann/json.hpp>
#include <vector>

#include "book/settings.h"
#include "command.h"
#include "errors.h"

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
        fmt::print("{:<12} {:<14} {}{}\n", s.name, s.value.empty() ? "(empty)" : s.value, s.meaning,
                   s.is_default ? " [default]" : "");
    }
}

// "link time 5": the last word is the value, the ones before it are the name.
void set(const std::vector<std::string>& words, const Context& context) {
    if (words.size() < 2) {
        throw WrongUse(
            fmt::format("say what \"{}\" is to be, for example: stripbook set link time 5", words.front()));
    }
    const std::string name = fmt::format("{}", fmt::join(words.begin(), words.end() - 1, " "));
    auto book = open_book(context, book::Access::write, "set");
    book::set_setting(book, name, words.back(), book::who_is_working(book));
    fmt::print("{} is {}\n", name, book::setting(book, name));
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
