// stripbook refit sheet: what goes back in, as a PDF to take to the machine.
#include <fmt/format.h>

#include <algorithm>
#include <memory>

#include "book/paths.h"
#include "errors.h"
#include "json_text.h"
#include "print/refit_sheet.h"
#include "print_job.h"
#include "refit_plan.h"
#include "terminal.h"
#include "typed_words.h"

namespace stripbook::cli {

namespace {

struct Typed {
    std::vector<std::string> tags;
    bool next = false;
    bool all = false;
    std::string assembly;
    std::string out;
    std::string paper = "a4";
};

// In the order of refitting.
std::vector<refit::Turn> wanted_turns(const book::Book& book, const RefitPlan& plan, const Typed& typed) {
    const int ways = (typed.tags.empty() ? 0 : 1) + (typed.next ? 1 : 0) + (typed.all ? 1 : 0);
    if (ways > 1 || (ways == 0 && typed.assembly.empty())) {
        throw WrongUse(
            "say which parts: their tags, --next for what can go in now, --all, or --assembly \"words\" for "
            "one "
            "assembly");
    }
    const auto tags = typed_tags(book, typed.tags);
    for (const auto& tag : tags) {
        static_cast<void>(plan.turn_of(tag));  // says which tag the book does not have
    }
    auto turns = turns_in(plan, typed.assembly);
    std::erase_if(turns, [&](const refit::Turn& turn) {
        if (!tags.empty()) {
            return std::find(tags.begin(), tags.end(), turn.tag) == tags.end();
        }
        return turn.state == refit::State::left_out || (typed.next && turn.state != refit::State::can_go_in);
    });
    return turns;
}

std::string heading(const Typed& typed) {
    std::string words = typed.next           ? "what can go in now"
                        : typed.tags.empty() ? "all parts"
                                             : "parts asked for";
    if (!typed.assembly.empty()) {
        words += ", " + typed.assembly;
    }
    return words;
}

print::RefitEntry entry_of(const RefitPlan& plan, const refit::Turn& turn) {
    print::RefitEntry entry{turn.tag, turn.step, {}, {}, turn.state == refit::State::in_place};
    if (turn.step > 0) {
        for (const auto& other : plan.order.steps[turn.step - 1]) {
            if (other != turn.tag) {
                entry.together_with.push_back(other);
            }
        }
    }
    if (turn.state == refit::State::held_up) {
        entry.held_up_by = held_up_by(plan, turn);
    }
    if (turn.state == refit::State::left_out) {
        entry.held_up_by.emplace_back("its path is scrap");
    }
    return entry;
}

void answer(const print::RefitSheetResult& result, std::size_t parts, const Context& context) {
    if (context.json) {
        print_json({{"file", result.file.string()},
                    {"pages", result.pages},
                    {"photos", result.photos},
                    {"parts", parts},
                    {"remarks", result.remarks}});
        return;
    }
    fmt::print("{}: {}, {}, {}\n", result.file.string(), counted(parts, "part", "parts"),
               counted(static_cast<std::size_t>(result.pages), "page", "pages"),
               counted(static_cast<std::size_t>(result.photos), "photo", "photos"));
    for (const auto& remark : result.remarks) {
        fmt::print("    note: {}\n", remark);
    }
}

void sheet(const Typed& typed, Context& context) {
    if (typed.paper != "a4" && typed.paper != "letter") {
        throw WrongUse(fmt::format("--paper {}: there are a4 and letter", book::printable_name(typed.paper)));
    }
    const auto book = open_book(context, book::Access::read, "refit sheet");
    const auto plan = refit_plan(book);
    const auto turns = wanted_turns(book, plan, typed);
    if (turns.empty()) {
        context.status = needs_a_person;
        context.json
            ? print_json({{"file", ""}, {"pages", 0}, {"photos", 0}, {"parts", 0}, {"remarks", {}}})
            : fmt::print("no part to print: stripbook refit next says what is held up and by what\n");
        return;
    }
    std::vector<print::RefitEntry> entries;
    for (const auto& turn : turns) {
        entries.push_back(entry_of(plan, turn));
    }
    const print::RefitSheetOptions options{heading(typed), today(), STRIPBOOK_VERSION,
                                           typed.paper == "letter", stop_requested};
    const auto result =
        print::write_refit_sheet(book, entries, pdf_path(book, typed.out, "refit-sheet.pdf"), options);
    context.status = result.remarks.empty() ? done : needs_a_person;
    answer(result, entries.size(), context);
}

}  // namespace

void add_refit_sheet(CLI::App& refit, Context& context) {
    auto typed = std::make_shared<Typed>();
    auto* command =
        add_command(refit, context, "sheet", "a PDF with photos and notes, in the order of refitting");
    command->add_option("tag", typed->tags, "tag numbers: PET-00417-D, PET-00417 or 417");
    command->add_flag("--next", typed->next, "what can go in now");
    command->add_flag("--all", typed->all, "every part that goes back in");
    command->add_option("--assembly", typed->assembly, "only parts whose assembly has these words");
    command->add_option("--out", typed->out, "the PDF to write (default: in the book's reports folder)");
    command->add_option("--paper", typed->paper, "a4 or letter");
    command->callback([typed, &context] { sheet(*typed, context); });
}

}  // namespace stripbook::cli
