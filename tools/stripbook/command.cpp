#include "command.h"

#include <fmt/format.h>

#include <cstdio>
#include <filesystem>

#include "book/paths.h"
#include "book/settings.h"
#include "errors.h"

namespace stripbook::cli {

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
    return opened;
}

number::LengthUnit unit_of(const book::Book& book) {
    return book::setting(book, "units") == "inch" ? number::LengthUnit::inch : number::LengthUnit::mm;
}

std::string counted(std::size_t count, const std::string& one, const std::string& many) {
    return count == 1 ? "1 " + one : fmt::format("{} {}", count, many);
}

}  // namespace stripbook::cli
