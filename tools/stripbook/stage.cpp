// stripbook stage: a person's word on what stage a photo shows.
#include <fmt/format.h>

#include <memory>

#include "book/photos.h"
#include "book/settings.h"
#include "command.h"
#include "errors.h"
#include "json_text.h"

namespace stripbook::cli {

namespace {

struct Typed {
    std::string photo;
    std::string stage;
    bool clear = false;
};

void set_stage(const Typed& typed, const Context& context) {
    if (typed.clear == !typed.stage.empty()) {
        throw WrongUse(fmt::format("give a stage ({}) or --clear", fmt::join(book::stage_words, ", ")));
    }
    auto book = open_book(context, book::Access::write, "stage");
    const auto photo = book::photo_from_typed(book, typed.photo);
    book::set_stage(book, photo, typed.stage, book::who_is_working(book));
    if (context.json) {
        print_json({{"photo", photo.text()}, {"stage", typed.stage}});
        return;
    }
    fmt::print("{} {}\n", photo.text(),
               typed.clear ? "has no stage of a person's any more" : "shows the stage " + typed.stage);
}

}  // namespace

void add_stage(CLI::App& app, Context& context) {
    auto typed = std::make_shared<Typed>();
    auto* command = add_command(app, context, "stage", "say which stage a photo shows");
    command->add_option("photo", typed->photo, "photo number, for example p12")->required();
    command->add_option("stage", typed->stage, fmt::format("{}", fmt::join(book::stage_words, ", ")));
    command->add_flag("--clear", typed->clear, "take a person's stage back");
    command->callback([typed, &context] { set_stage(*typed, context); });
}

}  // namespace stripbook::cli
