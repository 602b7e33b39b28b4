// What the commands of refitting share: the order with the state of every part, in words and as JSON.
#pragma once

#include <map>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/records.h"
#include "book/refit_order.h"
#include "command.h"
#include "refit/turns.h"

namespace stripbook::cli {

struct RefitPlan {
    std::map<number::TagNumber, book::Part> parts;
    std::vector<book::RefitWord> words;
    refit::Order order;
    std::vector<refit::Turn> turns;
    std::map<number::TagNumber, book::Refitted> refitted;
    std::map<number::TagNumber, std::vector<std::string>> path_open;  ///< of parts that are not ready

    [[nodiscard]] const refit::Turn& turn_of(const number::TagNumber& tag) const;
    /// "PET-00417-D Axlebox cover".
    [[nodiscard]] std::string named(const number::TagNumber& tag) const;
};

RefitPlan refit_plan(const book::Book& book);

/// The turns of parts whose assembly holds each of these words (case and accents ignored); all without words.
std::vector<refit::Turn> turns_in(const RefitPlan& plan, const std::string& assembly_words);

/// Why a part is held up, one reason a line.
std::vector<std::string> held_up_by(const RefitPlan& plan, const refit::Turn& turn);

/// "PET-00417-D goes in before PET-00424-F (said by Ana, 2026-11-25T10:00:00Z)".
std::string word_words(const book::RefitWord& word);

/// Circles with their tags, who said what, and what to do. Nothing where there are none.
void print_circles(const RefitPlan& plan);

nlohmann::json to_json(const RefitPlan& plan, const refit::Turn& turn);
nlohmann::json to_json(const std::vector<book::RefitWord>& words);
nlohmann::json circles_as_json(const RefitPlan& plan);

/// --by: who says so; without it whoever is at work in this book.
std::string who_says(const book::Book& book, const std::string& by);
void add_by(CLI::App& command, std::string& by);

// The subcommands of `refit`, each file its own.
void add_refit_words(CLI::App& refit, Context& context);
void add_refit_list(CLI::App& refit, Context& context);
void add_refit_note(CLI::App& refit, Context& context);
void add_refit_sheet(CLI::App& refit, Context& context);

}  // namespace stripbook::cli
