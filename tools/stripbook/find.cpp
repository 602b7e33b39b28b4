// stripbook find: a tag or words, and the as-removed photos come up.
#include <fmt/format.h>

#include <memory>
#include <vector>

#include "book/part_file.h"
#include "command.h"
#include "find/search.h"
#include "json_text.h"
#include "show_part.h"

namespace stripbook::cli {

namespace {

// More parts than this are listed one a line: nobody reads the photos of twenty parts at once.
constexpr std::size_t most_in_full = 5;

void find_parts(const std::vector<std::string>& words, Context& context) {
    const auto book = open_book(context, book::Access::read, "find");
    const auto parts = find::find_parts(book, words);
    if (parts.empty()) {
        context.status = needs_a_person;
    }
    if (context.json) {
        auto all = nlohmann::json::array();
        for (const auto& part : parts) {
            all.push_back(to_json(book, book::gather_part(book, part.tag)));
        }
        print_json({{"parts", all}});
        return;
    }
    if (parts.empty()) {
        fmt::print("no part has \"{}\"; try fewer words, or the number on the tag\n", fmt::join(words, " "));
        return;
    }
    if (parts.size() > most_in_full) {
        for (const auto& part : parts) {
            fmt::print("{}\n", heading_of(part));
        }
        fmt::print("{}; type one's number, or more words\n", counted(parts.size(), "part", "parts"));
        return;
    }
    for (const auto& part : parts) {
        print_part(book, book::gather_part(book, part.tag));
    }
}

}  // namespace

void add_find(CLI::App& app, Context& context) {
    auto words = std::make_shared<std::vector<std::string>>();
    auto* command = add_command(app, context, "find",
                                "find a part by tag or words: its record, photos by stage, and files");
    command->add_option("words", *words, "a tag number (417), or words of name, place, storage ...")
        ->required();
    command->callback([words, &context] { find_parts(*words, context); });
}

}  // namespace stripbook::cli
