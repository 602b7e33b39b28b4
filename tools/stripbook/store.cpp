// stripbook store: where parts lie now.
#include <fmt/format.h>

#include <memory>
#include <vector>

#include "book/parts.h"
#include "book/paths.h"
#include "book/settings.h"
#include "book/tag_meanings.h"
#include "book/utf8.h"
#include "command.h"
#include "errors.h"
#include "json_text.h"
#include "typed_words.h"

namespace stripbook::cli {

namespace {

struct Typed {
    std::vector<std::string> words;
    bool nowhere = false;
};

// "store 417 418" names two parts and no place: storing 417 at "418" would lose it.
void check_place(const book::Book& book, const std::string& place) {
    book::check_typed_text(place, "storage place");
    std::optional<book::Part> part;
    try {
        part = book::find_part(book, book::part_from_typed(book, place));
    } catch (const WrongUse&) {
        return;  // no tag number, as it should be
    }
    if (part) {
        throw WrongUse(
            fmt::format("\"{}\" is the tag of a part; name the storage place last: stripbook store "
                        "417 418 \"Rack C / shelf 2\"",
                        book::printable_name(place)));
    }
}

void store(const Typed& typed, const Context& context) {
    auto words = typed.words;
    std::string place;
    if (!typed.nowhere) {
        place = words.back();
        words.pop_back();
    }
    if (words.empty()) {
        throw WrongUse(
            "name the parts, then the storage place: stripbook store 417 418 \"Rack C / shelf 2\"");
    }
    auto book = open_book(context, book::Access::write, "store");
    check_place(book, place);
    const auto tags = typed_tags(book, words);
    auto answer = nlohmann::json::array();
    book.together([&] {
        for (const auto& tag : tags) {
            auto part = book::part_or_refusal(book, tag);
            part.storage = place;
            book::save_part(book, part, book::who_is_working(book), "store");
            answer.push_back(tag.text());
        }
    });
    if (context.json) {
        print_json({{"tags", answer}, {"storage", place}});
        return;
    }
    fmt::print("{} {}\n", counted(tags.size(), "part", "parts"),
               place.empty() ? "without a storage place now" : "at " + book::printable_name(place));
}

}  // namespace

void add_store(CLI::App& app, Context& context) {
    auto typed = std::make_shared<Typed>();
    auto* command =
        add_command(app, context, "store", "say where parts lie now: stripbook store 417 418 \"Rack C\"");
    command->add_option("words", typed->words, "tag numbers, and the storage place last")->required();
    command->add_flag("--nowhere", typed->nowhere, "take the storage place off: name tags only");
    command->callback([typed, &context] { store(*typed, context); });
}

}  // namespace stripbook::cli
