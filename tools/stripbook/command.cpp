#include "command.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cstdio>
#include <filesystem>

#include "book/paths.h"
#include "book/settings.h"
#include "errors.h"

namespace stripbook::cli {

namespace {

// Not changes of people: cards, what is read from photos, what is printed; and undo itself.
bool can_be_undone(const std::string& doing) {
    const std::array never{"dump", "read", "measure --all", "unsettled", "tags", "markers", "undo"};
    return std::find(never.begin(), never.end(), doing) == never.end();
}

std::string as_typed(const std::string& word) {
    return word.empty() || word.find_first_of(" \t\n\"'") != std::string::npos ? "\"" + word + "\"" : word;
}

}  // namespace

CLI::App* add_command(CLI::App& app, Context& context, const std::string& name, const std::string& what,
                      bool of_a_book) {
    CLI::App* command = app.add_subcommand(name, what);
    if (of_a_book) {
        command->add_option(
            "--book", context.book_folder,
            "the job book's folder (default: this folder or the nearest one above it that is a book)");
    }
    command->add_flag("--json", context.json, "answer as one JSON document (docs/json.md)");
    return command;
}

book::Book open_book(const Context& context, book::Access access, const std::string& doing) {
    std::filesystem::path folder = context.book_folder;
    if (context.book_folder.empty()) {
        const auto found = book::Book::find(std::filesystem::current_path());
        if (!found) {
            throw WrongUse(
                "there is no job book here or above; go into its folder, name it with --book FOLDER, or make "
                "one with: "
                "stripbook start FOLDER --code PET --title \"...\"");
        }
        folder = *found;
    }
    auto opened = book::Book::open(folder, access, doing);
    if (!opened.opening_note().empty()) {
        fmt::print(stderr, "{}\n", opened.opening_note());
    }
    if (access == book::Access::write && can_be_undone(doing)) {
        opened.begin_act(context.typed.empty() ? doing : context.typed);
    }
    return opened;
}

std::string typed_command(const std::vector<std::string>& words) {
    std::string command;
    for (std::size_t i = 0; i < words.size(); ++i) {
        if (words[i] == "--book") {
            ++i;
        } else if (words[i] != "--json" && words[i].rfind("--book=", 0) != 0) {
            command += (command.empty() ? "" : " ") + as_typed(words[i]);
        }
    }
    return command;
}

number::LengthUnit unit_of(const book::Book& book) {
    return book::setting(book, "units") == "inch" ? number::LengthUnit::inch : number::LengthUnit::mm;
}

std::string counted(std::size_t count, const std::string& one, const std::string& many) {
    return count == 1 ? "1 " + one : fmt::format("{} {}", count, many);
}

}  // namespace stripbook::cli
