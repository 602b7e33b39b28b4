// stripbook paths: the boss's list.
#include <fmt/format.h>

#include <memory>

#include "book/path_overview.h"
#include "book/paths.h"
#include "book/settings.h"
#include "command.h"
#include "json_record.h"
#include "json_text.h"
#include "number/money.h"
#include "show_part.h"
#include "typed_words.h"

namespace stripbook::cli {

namespace {

struct Typed {
    std::string days = "14";
};

void print_counts(const book::PathOverview& overview) {
    for (const char* word : book::path_words) {
        const auto count = overview.by_path.find(word);
        if (count == overview.by_path.end()) {
            continue;
        }
        std::string stages;
        const auto& by_stage = overview.by_path_and_stage.at(word);
        const auto add = [&](const std::string& stage, const std::string& words) {
            if (const auto found = by_stage.find(stage); found != by_stage.end()) {
                stages += fmt::format("{}{} {}", stages.empty() ? "" : ", ", found->second, words);
            }
        };
        for (const char* stage : book::stage_words) {
            add(stage, stage);
        }
        add("", "without a stage");
        fmt::print("  {:<10} {:>5}  ({})\n", word, count->second, stages);
    }
    fmt::print("  {:<10} {:>5}\n", "parts", overview.parts);
}

void print_blocked(const book::PathOverview& overview) {
    fmt::print("What keeps parts from going back: {}\n", counted(overview.blocked.size(), "part", "parts"));
    for (const auto& one : overview.blocked) {
        if (one.part.path == "undecided") {
            continue;  // many, and counted above
        }
        fmt::print("  {}\n", heading_of(one.part));
        for (const auto& line : one.why) {
            fmt::print("      {}\n", book::printable_name(line));
        }
    }
}

void print_waiting(const book::PathOverview& overview, int days) {
    fmt::print("Undecided for {} or more: {}\n", counted(static_cast<std::size_t>(days), "day", "days"),
               counted(overview.waiting.size(), "part", "parts"));
    for (const auto& one : overview.waiting) {
        fmt::print("  {}  {}\n", heading_of(one.part),
                   counted(static_cast<std::size_t>(one.days), "day", "days"));
    }
}

void print_sums(const book::PathOverview& overview, const std::string& currency) {
    fmt::print("Hours and costs, each assembly with what lies within it\n");
    for (const auto& sum : overview.sums) {
        const auto levels = sum.assembly.rfind(" / ");
        const std::string last = levels == std::string::npos ? sum.assembly : sum.assembly.substr(levels + 3);
        const std::string name =
            std::string(2 * sum.level, ' ') + (sum.level == 0 ? "the whole job" : book::printable_name(last));
        fmt::print("  {:<34} {:>5}  {:>7.1f} h planned  {:>7.1f} h open  {:>7.1f} h taken  {:>14}\n", name,
                   counted(static_cast<std::size_t>(sum.parts), "part", "parts"), sum.hours_planned,
                   sum.hours_open, sum.hours_taken, number::money_text(sum.price_cents, currency));
    }
}

void paths(const Typed& t, Context& context) {
    const int days = typed_whole(t.days, "--days");
    const auto book = open_book(context, book::Access::read, "paths");
    const auto overview = book::path_overview(book, days);
    const auto currency = book::setting(book, "currency");
    context.status = overview.waiting.empty() ? done : needs_a_person;
    if (context.json) {
        auto answer = to_json(overview);
        answer["days"] = days;
        answer["currency"] = currency;
        print_json(answer);
        return;
    }
    print_counts(overview);
    print_blocked(overview);
    print_waiting(overview, days);
    print_sums(overview, currency);
}

}  // namespace

void add_paths(CLI::App& app, Context& context) {
    auto t = std::make_shared<Typed>();
    auto* command =
        add_command(app, context, "paths",
                    "the whole job: parts by path and stage, what blocks refitting, hours and costs");
    command->add_option("--days", t->days,
                        "list parts that nobody has decided on for so many days (default: 14)");
    command->callback([t, &context] { paths(*t, context); });
}

}  // namespace stripbook::cli
