// stripbook unsettled: the photos that wait for a person, in groups that one decision settles; as a list or
// as a sheet to print.
#include <fmt/format.h>

#include <algorithm>
#include <memory>
#include <vector>

#include "book/paths.h"
#include "command.h"
#include "day/read_day.h"
#include "day/settle_words.h"
#include "errors.h"
#include "json_text.h"
#include "print/paper.h"
#include "print/photo_copies.h"
#include "print/report_file.h"
#include "print_job.h"
#include "terminal.h"
#include "unsettled_list.h"

namespace stripbook::cli {

namespace {

struct Typed {
    std::vector<std::string> groups;
    bool sheet = false;
    std::string out;
    std::string paper = "a4";
};

// A book of an older format has no groups until its photos are linked anew.
book::Book opened_with_groups(const Context& context) {
    auto book = open_book(context, book::Access::read, "unsettled");
    if (!book::waits_without_group(book)) {
        return book;
    }
    book = open_book(context, book::Access::write, "unsettled");
    day::link_all(book);
    return book;
}

std::vector<book::GroupNumber> wanted_groups(const book::Book& book, const Typed& typed) {
    std::vector<book::GroupNumber> wanted;
    for (const auto& word : typed.groups) {
        const auto groups = day::groups_from_word(word, book::highest_group(book));
        if (!groups) {
            throw WrongUse(fmt::format("\"{}\" is no group: type its number, or a range as 5-9",
                                       book::printable_name(word)));
        }
        wanted.insert(wanted.end(), groups->begin(), groups->end());
    }
    return wanted;
}

std::map<book::PhotoNumber, photo::PrintCopy> pictures_of(const book::Book& book,
                                                          const std::vector<print::GroupOnSheet>& groups) {
    std::map<book::PhotoNumber, book::Photo> wanted;
    for (const auto& group : groups) {
        for (const auto& photo : group.photos) {
            wanted.emplace(photo.number, photo);
        }
        for (const auto& suggestion : group.suggestions) {
            if (suggestion.tag_shot) {
                wanted.emplace(suggestion.tag_shot->number, *suggestion.tag_shot);
            }
        }
    }
    std::vector<book::Photo> photos;
    for (auto& [number, photo] : wanted) {
        photos.push_back(std::move(photo));
    }
    Progress progress("Pictures", false);
    return print::small_copies(
        book, photos, print::thumbnail_mm,
        [&](std::size_t done, std::size_t all) { progress.show(done, all); }, stop_requested);
}

void write_sheet(const book::Book& book, const std::vector<print::GroupOnSheet>& all, const Typed& typed,
                 Context& context) {
    const auto file = pdf_path(book, typed.out, "unsettled.pdf");
    std::vector<print::GroupOnSheet> groups;
    std::copy_if(all.begin(), all.end(), std::back_inserter(groups),
                 [](const print::GroupOnSheet& g) { return g.group.state == book::GroupState::open; });
    if (groups.empty()) {
        const auto none = nlohmann::json::array();
        context.json ? print_json({{"groups", none}, {"file", nullptr}, {"pages", 0}, {"remarks", none}})
                     : fmt::print("no photos wait for a person; there is nothing to print\n");
        return;
    }
    const auto pack = print::unsettled_sheet(groups, pictures_of(book, groups), book.title(), typed.paper,
                                             {today(), STRIPBOOK_VERSION});
    print::write_whole_file(file, pack.bytes);
    if (context.json) {
        auto list = nlohmann::json::array();
        for (const auto& group : groups) {
            list.push_back(to_json(book, group));
        }
        print_json(
            {{"groups", list}, {"file", file.string()}, {"pages", pack.pages}, {"remarks", pack.remarks}});
        return;
    }
    fmt::print("{}: {} in {}\n", file.string(), counted(groups.size(), "group", "groups"),
               counted(static_cast<std::size_t>(pack.pages), "page", "pages"));
    for (const auto& remark : pack.remarks) {
        fmt::print("    note: {}\n", remark);
    }
}

void print_list(const book::Book& book, const std::vector<print::GroupOnSheet>& groups, const Typed& typed) {
    std::size_t photos = 0;
    for (const auto& group : groups) {
        photos += group.photos.size();
    }
    if (groups.empty()) {
        fmt::print("no photos wait for a person\n");
        return;
    }
    if (typed.groups.empty()) {
        fmt::print("{} in {} wait for a person\n", counted(photos, "photo", "photos"),
                   counted(groups.size(), "group", "groups"));
    }
    for (const auto& group : groups) {
        print_group(book, group);
    }
    const auto open = std::find_if(groups.begin(), groups.end(), [](const print::GroupOnSheet& g) {
        return g.group.state == book::GroupState::open;
    });
    if (open != groups.end()) {
        fmt::print("say: stripbook settle {} and yes (suggestion a), another letter, a tag, none or apart\n",
                   open->group.number.value);
    }
}

void show_unsettled(const Typed& typed, Context& context) {
    if (!typed.out.empty() && !typed.sheet) {
        throw WrongUse("--out goes with --sheet");
    }
    print::paper_named(typed.paper);  // refuse a wrong one before anything else
    const auto book = opened_with_groups(context);
    const auto groups = gather_groups(book, wanted_groups(book, typed));
    const bool any_open = std::any_of(groups.begin(), groups.end(), [](const print::GroupOnSheet& g) {
        return g.group.state == book::GroupState::open;
    });
    context.status = any_open ? needs_a_person : done;
    if (typed.sheet) {
        write_sheet(book, groups, typed, context);
    } else if (context.json) {
        auto list = nlohmann::json::array();
        for (const auto& group : groups) {
            list.push_back(to_json(book, group));
        }
        print_json({{"groups", list}});
    } else {
        print_list(book, groups, typed);
    }
}

}  // namespace

void add_unsettled(CLI::App& app, Context& context) {
    auto typed = std::make_shared<Typed>();
    auto* command =
        add_command(app, context, "unsettled",
                    "list the photos that wait for a person, in groups that one decision settles");
    command->add_option("group", typed->groups, "only these groups, for example 4 or 5-9, settled ones too");
    command->add_flag("--sheet", typed->sheet, "write a PDF of thumbnails and suggestions to tick");
    command->add_option("--out", typed->out,
                        "the sheet's .pdf file (default: unsettled.pdf in the book's reports folder)");
    command->add_option("--paper", typed->paper, "a4 or letter (default: a4)");
    command->callback([typed, &context] { show_unsettled(*typed, context); });
}

}  // namespace stripbook::cli
