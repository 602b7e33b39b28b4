// stripbook wanted: sheets for a dealer or a machine shop.
#include <fmt/format.h>

#include <algorithm>
#include <memory>

#include "book/folded.h"
#include "book/paths.h"
#include "book/wanted.h"
#include "command.h"
#include "errors.h"
#include "json_text.h"
#include "print/wanted_sheet.h"
#include "print_job.h"
#include "terminal.h"
#include "typed_words.h"

namespace stripbook::cli {

namespace {

struct Typed {
    std::vector<std::string> tags;
    std::string path;
    std::string from;
    std::string out;
    std::string paper = "a4";
};

std::vector<book::WantedPart> asked_for(const book::Book& book, const Typed& typed) {
    if (typed.tags.empty()) {
        auto wanted = book::wanted_parts(book);
        const std::string from = book::folded(typed.from);
        std::erase_if(wanted, [&](const book::WantedPart& one) {
            const bool other_path = !typed.path.empty() && one.part.path != typed.path;
            return other_path || book::folded(one.path.from_whom).find(from) == std::string::npos;
        });
        return wanted;
    }
    if (!typed.path.empty() || !typed.from.empty()) {
        throw WrongUse("name the parts by their tags, or choose them with --path and --from, not both");
    }
    std::vector<book::WantedPart> wanted;
    for (const auto& tag : typed_tags(book, typed.tags)) {
        wanted.push_back(book::wanted_part(book, tag));
    }
    return wanted;
}

nlohmann::json part_json(const book::WantedPart& wanted) {
    return {{"tag", wanted.part.tag.text()},
            {"name", wanted.part.name},
            {"path", wanted.part.path},
            {"quantity", wanted.quantity},
            {"from", wanted.path.from_whom}};
}

void answer(const std::vector<book::WantedPart>& wanted, const print::WantedSheetResult& result,
            const Context& context) {
    if (context.json) {
        auto parts = nlohmann::json::array();
        for (const auto& one : wanted) {
            parts.push_back(part_json(one));
        }
        print_json({{"file", result.file.string()},
                    {"pages", result.pages},
                    {"photos", result.photos},
                    {"parts", parts},
                    {"remarks", result.remarks}});
        return;
    }
    fmt::print("{}: {}, {}, {}\n", result.file.string(), counted(wanted.size(), "part", "parts"),
               counted(static_cast<std::size_t>(result.pages), "page", "pages"),
               counted(static_cast<std::size_t>(result.photos), "photo", "photos"));
    for (const auto& remark : result.remarks) {
        fmt::print("    note: {}\n", remark);
    }
}

void sheets(const Typed& typed, Context& context) {
    const auto book = open_book(context, book::Access::read, "wanted");
    const auto wanted = asked_for(book, typed);
    if (wanted.empty()) {
        if (context.json) {
            print_json({{"file", ""},
                        {"pages", 0},
                        {"photos", 0},
                        {"parts", nlohmann::json::array()},
                        {"remarks", nlohmann::json::array()}});
        } else {
            fmt::print(
                "nothing is wanted: no such part to buy, make or repair is outstanding (stripbook path TAG "
                "buy)\n");
        }
        return;
    }
    const print::WantedSheetOptions options{today(), STRIPBOOK_VERSION, typed.paper == "letter",
                                            stop_requested};
    const auto result =
        print::write_wanted_sheets(book, wanted, pdf_path(book, typed.out, "wanted.pdf"), options);
    context.status = result.remarks.empty() ? done : needs_a_person;
    answer(wanted, result, context);
}

}  // namespace

void add_wanted(CLI::App& app, Context& context) {
    auto typed = std::make_shared<Typed>();
    auto* command =
        add_command(app, context, "wanted",
                    "sheets for a dealer or a shop: parts to buy, to make and to send for repair");
    command->add_option("tag", typed->tags, "tag numbers (default: everything outstanding)");
    command->add_option("--path", typed->path, "only parts to buy, to make, or to repair")
        ->check(CLI::IsMember({"buy", "make", "repair"}));
    command->add_option("--from", typed->from, "only what comes from this dealer or shop");
    command->add_option("--out", typed->out, "the PDF to write (default: in the book's reports folder)");
    command->add_option("--paper", typed->paper, "a4 or letter")->check(CLI::IsMember({"a4", "letter"}));
    command->callback([typed, &context] { sheets(*typed, context); });
}

}  // namespace stripbook::cli
