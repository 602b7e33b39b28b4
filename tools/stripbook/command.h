// What every command shares: the options --book and --json, the exit status, and opening the book.
#pragma once

#include <CLI/CLI.hpp>
#include <string>
#include <vector>

#include "book/book.h"
#include "number/length_text.h"

namespace stripbook::cli {

/// Exit statuses: docs/commands.md.
inline constexpr int done = 0;
inline constexpr int needs_a_person = 1;
inline constexpr int wrong_use = 2;
inline constexpr int failed = 3;

struct Context {
    std::string
        book_folder;    ///< --book; empty: the current folder or the nearest one above it that is a book
    bool json = false;  ///< --json: one JSON document on standard output instead of words
    int status = done;
    std::string typed;  ///< the command as it was typed, without --book and --json: for the history
};

/// A subcommand with --json (and --book when `of_a_book`).
CLI::App* add_command(CLI::App& app, Context& context, const std::string& name, const std::string& what,
                      bool of_a_book = true);

/// The book that --book or the current folder names. Throws WrongUse when there is none. What opening has to
/// say goes to standard error. What is changed then can be undone, unless `doing` is one of the few that
/// cannot: cards, reading, printing.
book::Book open_book(const Context& context, book::Access access, const std::string& doing);

/// The unit of lengths that are typed without one: the setting "units".
number::LengthUnit unit_of(const book::Book& book);

/// The words of a command line as one, in quotation marks where a shell needs them; without --book and
/// --json.
std::string typed_command(const std::vector<std::string>& words);

/// Words that read like a count: "1 photo", "3 photos".
std::string counted(std::size_t count, const std::string& one, const std::string& many);

// One function a command, each in its own file.
void add_start(CLI::App& app, Context& context);
void add_set(CLI::App& app, Context& context);
void add_parts(CLI::App& app, Context& context);
/// Subcommands of `parts`: move, missing, expect, bag.
void add_parts_tree(CLI::App& parts, Context& context);
/// Subcommands of `parts`: merge, split.
void add_parts_mistakes(CLI::App& parts, Context& context);
void add_tag(CLI::App& app, Context& context);
void add_dump(CLI::App& app, Context& context);
void add_read(CLI::App& app, Context& context);
void add_link(CLI::App& app, Context& context);
void add_unsettled(CLI::App& app, Context& context);
void add_settle(CLI::App& app, Context& context);
void add_stage(CLI::App& app, Context& context);
void add_find(CLI::App& app, Context& context);
void add_check(CLI::App& app, Context& context);
void add_report(CLI::App& app, Context& context);
void add_cameras(CLI::App& app, Context& context);
void add_clock(CLI::App& app, Context& context);
void add_measure(CLI::App& app, Context& context);
void add_lens(CLI::App& app, Context& context);
void add_hazard(CLI::App& app, Context& context);
void add_inspect(CLI::App& app, Context& context);
void add_path(CLI::App& app, Context& context);
void add_paths(CLI::App& app, Context& context);
void add_work(CLI::App& app, Context& context);
void add_wanted(CLI::App& app, Context& context);
void add_store(CLI::App& app, Context& context);
void add_tags(CLI::App& app, Context& context);
void add_markers(CLI::App& app, Context& context);
void add_refit(CLI::App& app, Context& context);
void add_history(CLI::App& app, Context& context);
void add_undo(CLI::App& app, Context& context);
void add_export(CLI::App& app, Context& context);

}  // namespace stripbook::cli
