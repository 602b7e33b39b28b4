// stripbook refit next, list: what can go in now, what is held up and by what, and the whole order.
#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <memory>

#include "book/paths.h"
#include "json_text.h"
#include "refit_plan.h"

namespace stripbook::cli {

namespace {

// More than this nobody reads on a floor.
constexpr std::size_t most_shown = 12;

struct Typed {
    std::string assembly;
    bool all = false;
};

using Turns = std::vector<refit::Turn>;

Turns those(const Turns& turns, const std::function<bool(const refit::Turn&)>& wanted) {
    Turns found;
    std::copy_if(turns.begin(), turns.end(), std::back_inserter(found), wanted);
    return found;
}

std::string step_words(const refit::Turn& turn) {
    return turn.step == 0 ? "-" : std::to_string(turn.step);
}

std::string where_words(const book::Part& part) {
    std::string words;
    if (!part.place.empty()) {
        words += ", goes to: " + book::printable_name(part.place);
    }
    if (!part.storage.empty()) {
        words += ", lies in: " + book::printable_name(part.storage);
    }
    return words;
}

void print_turn(const RefitPlan& plan, const refit::Turn& turn) {
    fmt::print("  {:>4}  {}{}\n", step_words(turn), plan.named(turn.tag),
               where_words(plan.parts.at(turn.tag)));
}

void print_group(const RefitPlan& plan, const Turns& turns, const char* heading, const Typed& typed) {
    if (turns.empty()) {
        return;
    }
    const std::size_t shown = typed.all ? turns.size() : std::min(turns.size(), most_shown);
    fmt::print("{}\n", heading);
    for (std::size_t i = 0; i < shown; ++i) {
        print_turn(plan, turns[i]);
        if (turns[i].state == refit::State::held_up) {
            for (const auto& reason : held_up_by(plan, turns[i])) {
                fmt::print("        {}\n", reason);
            }
        }
    }
    if (shown < turns.size()) {
        fmt::print("        and {} more; --all shows them\n", turns.size() - shown);
    }
}

nlohmann::json list_of(const RefitPlan& plan, const Turns& turns) {
    auto list = nlohmann::json::array();
    for (const auto& turn : turns) {
        list.push_back(to_json(plan, turn));
    }
    return list;
}

void next(const Typed& typed, Context& context) {
    const auto book = open_book(context, book::Access::read, "refit next");
    const auto plan = refit_plan(book);
    const auto turns = turns_in(plan, typed.assembly);
    const auto can_go_in = those(turns, [](const auto& t) { return t.state == refit::State::can_go_in; });
    const auto held_up = those(turns, [](const auto& t) { return t.state == refit::State::held_up; });
    const bool stuck = can_go_in.empty() && !held_up.empty();
    const bool nothing_meant = turns.empty() && !typed.assembly.empty();
    context.status = stuck || nothing_meant || !plan.order.circles.empty() ? needs_a_person : done;
    if (context.json) {
        print_json({{"can_go_in", list_of(plan, can_go_in)},
                    {"held_up", list_of(plan, held_up)},
                    {"circles", circles_as_json(plan)}});
        return;
    }
    if (nothing_meant) {
        fmt::print("no part's assembly has these words; stripbook parts list shows the assemblies\n");
        return;
    }
    const auto in_turn = those(can_go_in, [](const auto& t) { return t.in_turn; });
    const auto later = those(can_go_in, [](const auto& t) { return !t.in_turn; });
    print_group(plan, in_turn, "goes in next", typed);
    print_group(plan, later, "can go in, though something that came off later is not in yet", typed);
    print_group(plan, held_up, "held up", typed);
    print_circles(plan);
    const auto in_place = those(turns, [](const auto& t) { return t.state == refit::State::in_place; });
    const auto left_out = those(turns, [](const auto& t) { return t.state == refit::State::left_out; });
    fmt::print("{} can go in, {} held up, {} in place{}\n", counted(can_go_in.size(), "part", "parts"),
               held_up.size(), in_place.size(),
               left_out.empty() ? "" : fmt::format(", {} scrap", left_out.size()));
}

void print_in_list(const RefitPlan& plan, const refit::Turn& turn) {
    const auto refitted = plan.refitted.find(turn.tag);
    fmt::print(
        "{:>5}  {:<10}  {}{}\n", step_words(turn), refit::state_word(turn.state), plan.named(turn.tag),
        refitted == plan.refitted.end()
            ? ""
            : fmt::format("  ({}, {})", book::printable_name(refitted->second.who), refitted->second.at));
}

void list(const Typed& typed, Context& context) {
    const auto book = open_book(context, book::Access::read, "refit list");
    const auto plan = refit_plan(book);
    const auto turns = turns_in(plan, typed.assembly);
    context.status = plan.order.circles.empty() ? done : needs_a_person;
    if (context.json) {
        print_json({{"parts", list_of(plan, turns)},
                    {"words", to_json(plan.words)},
                    {"circles", circles_as_json(plan)}});
        return;
    }
    for (const auto& turn : turns) {
        print_in_list(plan, turn);
    }
    for (const auto& word : plan.words) {
        fmt::print("{}\n", word_words(word));
    }
    print_circles(plan);
    fmt::print("{} in {}\n", counted(turns.size(), "part", "parts"),
               counted(plan.order.steps.size(), "step", "steps"));
}

}  // namespace

void add_refit_list(CLI::App& refit, Context& context) {
    auto typed = std::make_shared<Typed>();
    auto* next_command =
        add_command(refit, context, "next", "what can go in now, and what is held up and by what");
    next_command->add_flag("--all", typed->all, "every part, not only the first twelve of each kind");
    next_command->callback([typed, &context] { next(*typed, context); });
    auto* list_command = add_command(refit, context, "list", "the whole order with the state of every part");
    list_command->callback([typed, &context] { list(*typed, context); });
    for (auto* command : {next_command, list_command}) {
        command->add_option("--assembly", typed->assembly, "only parts whose assembly has these words");
    }
}

}  // namespace stripbook::cli
