#include "refit_plan.h"

#include <fmt/format.h>

#include <algorithm>
#include <sstream>

#include "book/folded.h"
#include "book/parts.h"
#include "book/paths.h"
#include "book/refit_needs.h"
#include "book/settings.h"
#include "book/utf8.h"
#include "errors.h"
#include "show_part.h"

namespace stripbook::cli {

namespace {

using number::TagNumber;

std::string why_not_ready(const book::Part& part, const std::vector<std::string>& path_open) {
    if (part.path == "undecided") {
        return "what happens to it is not decided (path undecided)";
    }
    return part.path == "hold"
               ? "it is on hold"
               : fmt::format("its path is {}: {}", part.path,
                             book::printable_name(fmt::format("{}", fmt::join(path_open, "; "))));
}

nlohmann::json tag_list(const std::vector<TagNumber>& tags) {
    auto list = nlohmann::json::array();
    for (const auto& tag : tags) {
        list.push_back(tag.text());
    }
    return list;
}

}  // namespace

const refit::Turn& RefitPlan::turn_of(const TagNumber& tag) const {
    const auto turn = std::find_if(turns.begin(), turns.end(), [&](const auto& t) { return t.tag == tag; });
    if (turn == turns.end()) {
        throw WrongUse(fmt::format("the book has no part {}: look at the tag again", tag.text()));
    }
    return *turn;
}

std::string RefitPlan::named(const TagNumber& tag) const {
    const std::string& name = parts.at(tag).name;
    return name.empty() ? tag.text() : fmt::format("{} {}", tag.text(), book::printable_name(name));
}

RefitPlan refit_plan(const book::Book& book) {
    RefitPlan plan;
    for (const auto& part : book::all_parts(book)) {
        plan.parts.emplace(part.tag, part);
    }
    for (const auto& refitted : book::refitted_parts(book)) {
        plan.refitted.emplace(refitted.tag, refitted);
    }
    std::map<TagNumber, refit::Standing> standings;
    for (const auto& [tag, part] : plan.parts) {
        auto path_open = book::path_open(book, part);
        standings[tag] = {path_open.empty(), plan.refitted.contains(tag), book::goes_back_in(book, part)};
        if (!path_open.empty()) {
            plan.path_open.emplace(tag, std::move(path_open));
        }
    }
    plan.words = book::refit_words(book);
    plan.order = refit::order_of(book::removals(book), plan.words);
    plan.turns = refit::turns(plan.order, plan.words, standings);
    return plan;
}

std::vector<refit::Turn> turns_in(const RefitPlan& plan, const std::string& assembly_words) {
    std::vector<refit::Turn> turns;
    for (const auto& turn : plan.turns) {
        const std::string assembly = book::folded(plan.parts.at(turn.tag).assembly);
        std::istringstream words(book::folded(assembly_words));
        bool holds_all = true;
        for (std::string word; words >> word;) {
            holds_all = holds_all && assembly.find(word) != std::string::npos;
        }
        if (holds_all) {
            turns.push_back(turn);
        }
    }
    return turns;
}

std::vector<std::string> held_up_by(const RefitPlan& plan, const refit::Turn& turn) {
    std::vector<std::string> reasons;
    for (const auto& tag : turn.not_ready) {
        const std::string why = why_not_ready(plan.parts.at(tag), plan.path_open.at(tag));
        reasons.push_back(
            tag == turn.tag ? why : fmt::format("goes in together with {}: {}", plan.named(tag), why));
    }
    for (const auto& tag : turn.waits_for) {
        reasons.push_back(fmt::format("{} must be in first", plan.named(tag)));
    }
    if (turn.step == 0) {
        reasons.emplace_back("what people said about the order goes round in a circle at or before it");
    }
    return reasons;
}

std::string word_words(const book::RefitWord& word) {
    return fmt::format("{} goes in {} {} (said by {}, {})", word.first.text(),
                       book::refit_word_words(word.kind), word.second.text(), book::printable_name(word.who),
                       word.at);
}

void print_circles(const RefitPlan& plan) {
    for (const auto& circle : plan.order.circles) {
        fmt::print("a circle: what was said about these parts cannot all be right\n");
        for (const auto& tag : circle.tags) {
            fmt::print("  {}\n", plan.named(tag));
        }
        for (const auto& word : circle.words) {
            fmt::print("    {}\n", word_words(word));
        }
        const auto& wrong = circle.words.back();
        fmt::print("  take back the word that is wrong, for example: stripbook refit forget {} {}\n",
                   wrong.first.serial(), wrong.second.serial());
    }
}

nlohmann::json to_json(const RefitPlan& plan, const refit::Turn& turn) {
    const book::Part& part = plan.parts.at(turn.tag);
    const auto refitted = plan.refitted.find(turn.tag);
    const bool held_up = turn.state == refit::State::held_up;
    return {{"tag", turn.tag.text()},
            {"name", part.name},
            {"assembly", part.assembly},
            {"place", part.place},
            {"storage", part.storage},
            {"step", turn.step == 0 ? nlohmann::json(nullptr) : nlohmann::json(turn.step)},
            {"state", refit::state_word(turn.state)},
            {"in_turn", turn.in_turn},
            {"waits_for", tag_list(turn.waits_for)},
            {"not_ready", tag_list(turn.not_ready)},
            {"held_up_by", held_up ? held_up_by(plan, turn) : std::vector<std::string>{}},
            {"done_at", refitted == plan.refitted.end() ? "" : refitted->second.at},
            {"done_by", refitted == plan.refitted.end() ? "" : refitted->second.who}};
}

nlohmann::json to_json(const std::vector<book::RefitWord>& words) {
    auto list = nlohmann::json::array();
    for (const auto& word : words) {
        list.push_back({{"kind", word.kind == book::RefitWordKind::before ? "before" : "together"},
                        {"first", word.first.text()},
                        {"second", word.second.text()},
                        {"at", word.at},
                        {"who", word.who}});
    }
    return list;
}

nlohmann::json circles_as_json(const RefitPlan& plan) {
    auto list = nlohmann::json::array();
    for (const auto& circle : plan.order.circles) {
        list.push_back({{"tags", tag_list(circle.tags)}, {"words", to_json(circle.words)}});
    }
    return list;
}

std::string who_says(const book::Book& book, const std::string& by) {
    book::check_typed_text(by, "--by");
    return by.empty() ? book::who_is_working(book) : by;
}

void add_by(CLI::App& command, std::string& by) {
    command.add_option("--by", by, "who says so (default: whoever is at work in this book)");
}

}  // namespace stripbook::cli
