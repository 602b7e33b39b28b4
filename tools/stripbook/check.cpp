// stripbook check: every original against its recorded hash, and the book against itself.
#include <fmt/format.h>

#include <vector>

#include "command.h"
#include "dump/check_originals.h"
#include "dump/room_check.h"
#include "json_text.h"
#include "terminal.h"

namespace stripbook::cli {

namespace {

void print_lines(const char* label, const std::vector<std::string>& lines) {
    for (const auto& line : lines) {
        fmt::print("{:<11} {}\n", label, line);
    }
}

void check(Context& context) {
    const auto book = open_book(context, book::Access::read, "check");
    dump::FileDoor door;
    Progress progress("Checking", true);
    const auto result = dump::check_originals(
        book, door, [&](const dump::Progress& p) { progress.show(p.bytes_done, p.bytes_all); },
        stop_requested);
    context.status = result.good() ? done : failed;
    if (context.json) {
        print_json({{"good", result.good()},
                    {"files", result.files},
                    {"bytes", result.bytes},
                    {"missing", result.missing},
                    {"changed", result.changed},
                    {"unreadable", result.unreadable},
                    {"extra", result.extra},
                    {"inside", result.inside}});
        return;
    }
    print_lines("MISSING", result.missing);
    print_lines("CHANGED", result.changed);
    print_lines("UNREADABLE", result.unreadable);
    print_lines("EXTRA", result.extra);
    print_lines("BOOK", result.inside);
    fmt::print("{}, {} read again: {}\n", counted(result.files, "original", "originals"),
               dump::size_text(result.bytes),
               result.good() ? "every one is as it was taken in, and the book is sound"
                             : "NOT all as they were taken in; see the lines above");
}

}  // namespace

void add_check(CLI::App& app, Context& context) {
    auto* command = add_command(app, context, "check", "read every original again and prove the book whole");
    command->callback([&context] { check(context); });
}

}  // namespace stripbook::cli
