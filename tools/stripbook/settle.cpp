// stripbook settle: a person's decisions on groups of photos that wait, and what follows from them at once.
#include <fmt/format.h>

#include <memory>

#include "book/parts.h"
#include "book/settings.h"
#include "command.h"
#include "day/settle.h"
#include "json_text.h"
#include "link_changes.h"
#include "show_part.h"

namespace stripbook::cli {

namespace {

struct Typed {
    std::vector<std::string> words;
};

struct Done {
    std::vector<day::Settled> settled;
    LinkChanges changes;  ///< other links that changed because of it
    std::size_t still_open = 0;
};

Done carry_out(const Typed& typed, book::Book& book) {
    const auto orders = day::orders_from_words(typed.words, book.code(), book::highest_group(book));
    const auto before = links_now(book);
    Done out;
    out.settled = day::settle(book, orders, book::who_is_working(book));
    out.changes = link_changes(before, links_now(book));
    for (const auto& settled : out.settled) {
        const auto tag = number::TagNumber::from_exact(settled.decision);
        for (const auto& photo : settled.photos) {
            if (tag) {
                out.changes.take_out({photo, *tag});
            }
        }
    }
    out.still_open = book::open_groups(book).size();
    return out;
}

std::string words_for(const book::Book& book, const day::Settled& settled) {
    const auto tag = number::TagNumber::from_exact(settled.decision);
    const char* verb = settled.photos.size() == 1 ? "belongs" : "belong";
    if (tag) {
        const auto part = book::find_part(book, *tag);
        return fmt::format("{} to {}", verb, part ? heading_of(*part) : tag->text());
    }
    if (settled.decision == book::no_part) {
        return fmt::format("{} to no part", verb);
    }
    if (settled.decision == "back") {
        return "the decision is taken back";
    }
    std::vector<std::string> pieces;
    for (const auto& piece : settled.pieces) {
        pieces.push_back(piece.text());
    }
    return pieces.empty() ? "are not one group"
                          : fmt::format("are not one group: {}", fmt::join(pieces, ", "));
}

nlohmann::json to_json(const day::Settled& settled) {
    auto photos = nlohmann::json::array();
    for (const auto& photo : settled.photos) {
        photos.push_back(photo.text());
    }
    auto pieces = nlohmann::json::array();
    for (const auto& piece : settled.pieces) {
        pieces.push_back(piece.value);
    }
    return {{"group", settled.group.value},
            {"decision", settled.decision},
            {"photos", photos},
            {"new_groups", pieces},
            {"as_it_was", settled.as_it_was}};
}

void print(const book::Book& book, const Done& out) {
    for (const auto& settled : out.settled) {
        fmt::print("{}: {} {}{}\n", settled.group.text(), book::photo_list(settled.photos),
                   words_for(book, settled), settled.as_it_was ? " (as it was)" : "");
        if (!settled.left.empty()) {
            fmt::print("    {} of this group waited no more and {} as before\n",
                       book::photo_list(settled.left), settled.left.size() == 1 ? "stays" : "stay");
        }
    }
    print_link_changes(out.changes);
    fmt::print("{}\n", out.still_open == 0
                           ? "no photos wait for a person any more"
                           : counted(out.still_open, "group still waits", "groups still wait"));
}

void settle(const Typed& typed, const Context& context) {
    auto book = open_book(context, book::Access::write, "settle");
    const Done out = carry_out(typed, book);
    if (!context.json) {
        print(book, out);
        return;
    }
    auto list = nlohmann::json::array();
    for (const auto& settled : out.settled) {
        list.push_back(to_json(settled));
    }
    print_json({{"settled", list},
                {"changed_links", cli::to_json(out.changes)},
                {"groups_waiting", out.still_open}});
}

}  // namespace

void add_settle(CLI::App& app, Context& context) {
    auto typed = std::make_shared<Typed>();
    auto* command = add_command(app, context, "settle", "say which part groups of waiting photos belong to");
    command->add_option("words", typed->words,
                        "groups, then what becomes of them: 3 5-9 yes (the best suggestion), 4 b (that "
                        "suggestion), 4 PET-00417, 7 none (no part), 7 apart or 7 apart p31 (not one group), "
                        "7 back (take it back); several in one go");
    command->callback([typed, &context] { settle(*typed, context); });
}

}  // namespace stripbook::cli
