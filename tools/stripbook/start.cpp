// stripbook start: makes a job book.
#include <fmt/format.h>
#include <pwd.h>
#include <unistd.h>

#include <memory>
#include <nlohmann/json.hpp>

#include "book/book.h"
#include "book/settings.h"
#include "command.h"

namespace stripbook::cli {

namespace {

struct Typed {
    std::string folder;
    std::string code;
    std::string title;
};

void start(const Typed& typed, Context& context) {
    const auto code = number::BookCode::from_typed(typed.code);
    const auto book = book::Book::start(typed.folder, code, typed.title, book::login_name());
    if (context.json) {
        fmt::print(
            "{}\n",
            nlohmann::json{{"book", book.folder().string()}, {"code", code.text()}, {"title", typed.title}}
                .dump(2, ' ', false, nlohmann::json::error_handler_t::replace));
        return;
    }
    fmt::print("The job book of {} ({}) is in {}\n", typed.title, code.text(), typed.folder);
    fmt::print("Next: stripbook parts import parts.csv, then at day's end stripbook dump CARD\n");
}

}  // namespace

void add_start(CLI::App& app, Context& context) {
    auto typed = std::make_shared<Typed>();
    auto* command = add_command(app, context, "start", "make a job book for one restoration", false);
    command->add_option("folder", typed->folder, "the new book's folder")->required();
    command->add_option("--code", typed->code, "book code printed on every tag, 2 to 4 letters and digits")
        ->required();
    command->add_option("--title", typed->title, "the machine, as reports name it")->required();
    command->callback([typed, &context] { start(*typed, context); });
}

}  // namespace stripbook::cli
