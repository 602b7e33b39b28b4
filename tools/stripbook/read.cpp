// stripbook read: the photos of the book, read again after an update of the program.
#include <fmt/format.h>

#include <memory>

#include "command.h"
#include "day/read_again.h"
#include "day/read_day.h"
#include "errors.h"
#include "json_text.h"
#include "link_changes.h"
#include "terminal.h"

namespace stripbook::cli {

namespace {

struct Typed {
    bool again = false;
    bool all = false;
};

day::Rereading read_photos(book::Book& book, bool all) {
    Progress progress("Reading", false);
    day::ReadOptions options;
    options.progress = [&](const day::ReadProgress& p) { progress.show(p.done, p.all); };
    options.stop = stop_requested;
    return day::read_again(book, all, options);
}

nlohmann::json to_json(const std::vector<PhotoAndTag>& links) {
    auto list = nlohmann::json::array();
    for (const auto& [photo, tag] : links) {
        list.push_back({{"photo", photo.text()}, {"tag", tag.text()}});
    }
    return list;
}

void print(const day::Rereading& rereading, const LinkChanges& links) {
    fmt::print("{} read again, {} with another result\n", counted(rereading.read, "photo", "photos"),
               rereading.changed.size());
    for (const auto& [photo, before, after] : rereading.changed) {
        fmt::print("{}: {}; before: {}\n", photo.text(), after, before);
    }
    for (const auto& line : rereading.kept) {
        fmt::print("{}\n", line);
    }
    print_link_changes(links);
}

void print_as_json(const day::Rereading& rereading, const LinkChanges& links) {
    auto changed = nlohmann::json::array();
    for (const auto& [photo, before, after] : rereading.changed) {
        changed.push_back({{"photo", photo.text()}, {"before", before}, {"after", after}});
    }
    print_json({{"read", rereading.read},
                {"changed", changed},
                {"kept", rereading.kept},
                {"linked", to_json(links.came)},
                {"unlinked", to_json(links.went)}});
}

void read(const Typed& typed, Context& context) {
    if (!typed.again) {
        throw WrongUse(
            "say --again to read photos again that an older version of the program read, and --all besides "
            "to read every one (new photos are read by dump)");
    }
    auto book = open_book(context, book::Access::write, "read");
    const auto before = links_now(book);
    const day::Rereading rereading = read_photos(book, typed.all);
    day::link_all(book);
    const LinkChanges links = link_changes(before, links_now(book));
    context.json ? print_as_json(rereading, links) : print(rereading, links);
    context.status = rereading.kept.empty() ? done : needs_a_person;
}

}  // namespace

void add_read(CLI::App& app, Context& context) {
    auto typed = std::make_shared<Typed>();
    auto* command =
        add_command(app, context, "read", "read the book's photos again after an update of the program");
    command->add_flag("--again", typed->again, "photos that an older version of the program read");
    command->add_flag("--all", typed->all, "every photo");
    command->callback([typed, &context] { read(*typed, context); });
}

}  // namespace stripbook::cli
