// stripbook: the command line. Each command is a file of its own; this one names them and turns errors into
// one line.
#include <fmt/format.h>

#include <cstdio>
#include <exception>
#include <sstream>
#include <string>

#include "book/paths.h"
#include "command.h"
#include "errors.h"
#include "terminal.h"

namespace {

using namespace stripbook;

// Whatever was typed stands in messages too, and never steers the terminal; only line ends stay.
int say(const char* words, int status) {
    std::istringstream lines(words);
    std::string start = "stripbook: ";
    for (std::string line; std::getline(lines, line); start.clear()) {
        fmt::print(stderr, "{}{}\n", start, book::printable_name(line));
    }
    return status;
}

// The last command typed that wants one of its own commands named after it; nothing where none does.
const CLI::App* waiting_for_command(const CLI::App& app) {
    const auto typed = app.get_subcommands();
    if (!typed.empty()) {
        return waiting_for_command(*typed.front());
    }
    return app.get_require_subcommand_min() > 0 ? &app : nullptr;
}

// `before`: the commands that were understood, each with a space after it; `typed`: what came next.
std::string no_command_words(const std::string& before, const std::string& typed) {
    const std::string said =
        typed.empty() ? "say what to do" : fmt::format("there is no command \"{}{}\"", before, typed);
    const std::string example = before.empty() ? ", for example stripbook dump CARD" : "";
    return fmt::format("{}: stripbook {}--help lists the commands{}", said, before, example);
}

int run(int argc, char** argv) {
    cli::Context context;
    context.typed = cli::typed_command({argv + 1, argv + argc});
    CLI::App app(
        "stripbook keeps the record of a machine's restoration: it takes camera cards in, reads the part "
        "tags in the "
        "photos, links each photo to its part, and writes condition reports.");
    app.set_version_flag("--version", "stripbook " STRIPBOOK_VERSION);
    app.require_subcommand(1);
    cli::add_start(app, context);
    cli::add_set(app, context);
    cli::add_parts(app, context);
    cli::add_tag(app, context);
    cli::add_tags(app, context);
    cli::add_markers(app, context);
    cli::add_dump(app, context);
    cli::add_read(app, context);
    cli::add_link(app, context);
    cli::add_unsettled(app, context);
    cli::add_settle(app, context);
    cli::add_stage(app, context);
    cli::add_hazard(app, context);
    cli::add_inspect(app, context);
    cli::add_path(app, context);
    cli::add_paths(app, context);
    cli::add_work(app, context);
    cli::add_wanted(app, context);
    cli::add_store(app, context);
    cli::add_cameras(app, context);
    cli::add_clock(app, context);
    cli::add_measure(app, context);
    cli::add_lens(app, context);
    cli::add_find(app, context);
    cli::add_check(app, context);
    cli::add_report(app, context);
    cli::add_refit(app, context);
    cli::add_history(app, context);
    cli::add_undo(app, context);
    cli::add_export(app, context);
    try {
        app.parse(argc, argv);
        return context.status;
    } catch (const CLI::Success& help) {
        return app.exit(help);
    } catch (const CLI::ParseError& e) {
        if (const auto* waiting = waiting_for_command(app)) {
            const std::string before = waiting == &app ? "" : waiting->get_name() + " ";
            const auto unknown = app.remaining(true);
            return say(no_command_words(before, unknown.empty() ? "" : unknown.front()).c_str(),
                       cli::wrong_use);
        }
        return say(
            fmt::format("{} (stripbook --help, or stripbook COMMAND --help, says how)", e.what()).c_str(),
            cli::wrong_use);
    }
}

}  // namespace

int main(int argc, char** argv) {
    cli::install_stop_signals();
    try {
        return run(argc, argv);
    } catch (const WrongUse& e) {
        return say(e.what(), cli::wrong_use);
    } catch (const BadFile& e) {
        return say(e.what(), cli::wrong_use);
    } catch (const Error& e) {
        return say(e.what(), cli::failed);
    } catch (const std::bad_alloc&) {
        return say("out of memory; close other programs and run the same command again", cli::failed);
    } catch (const std::exception& e) {
        // Our own fault: everything expected has a type of ours.
        return say(
            fmt::format(
                "a fault of this program ({}); nothing that was recorded is lost. Please report it with "
                "the command you gave",
                e.what())
                .c_str(),
            cli::failed);
    }
}
