// stripbook clock: the running time as a QR code, for the cameras to photograph.
#include <fmt/format.h>
#include <unistd.h>

#include <chrono>
#include <cstdio>
#include <filesystem>
#include <memory>
#include <thread>

#include "book/paths.h"
#include "command.h"
#include "errors.h"
#include "json_text.h"
#include "print/clock_picture.h"
#include "print/report_file.h"
#include "terminal.h"

namespace stripbook::cli {

namespace {

struct Typed {
    std::string out;
    bool once = false;
};

std::int64_t now_s() {
    const auto now = std::chrono::system_clock::now().time_since_epoch();
    return std::chrono::duration_cast<std::chrono::seconds>(now).count();
}

// Shortly after the next full second.
void wait_for_the_next(std::int64_t shown_s) {
    const std::chrono::system_clock::time_point next{std::chrono::seconds(shown_s + 1)};
    std::this_thread::sleep_until(next);
}

void draw(std::int64_t utc_s, bool again) {
    const std::string lines = print::clock_lines(utc_s);
    if (again) {
        std::fputs("\x1b[H", stdout);
    }
    fmt::print("{}{}   photograph this with every camera{}\n", lines, print::clock_text(utc_s).substr(5),
               again ? "; Ctrl-C ends it" : "");
    std::fflush(stdout);
}

void write_picture(const std::string& file, std::int64_t utc_s) {
    print::write_whole_file(file, print::clock_picture(utc_s));
}

void show_once(const Typed& typed, const Context& context) {
    const std::int64_t utc_s = now_s();
    if (!typed.out.empty()) {
        write_picture(typed.out, utc_s);
    }
    if (context.json) {
        print_json({{"text", print::clock_text(utc_s)}, {"file", typed.out}});
    } else if (typed.out.empty()) {
        draw(utc_s, false);
    } else {
        fmt::print("{} shows {}: photograph it at that second; later it makes a camera's clock look ahead\n",
                   book::printable_name(typed.out), print::clock_text(utc_s).substr(5));
    }
}

void show_on(const Typed& typed) {
    const bool on_terminal = isatty(STDOUT_FILENO) == 1;
    if (on_terminal) {
        std::fputs("\x1b[2J", stdout);
    }
    while (!stop_requested()) {
        const std::int64_t utc_s = now_s();
        if (!typed.out.empty()) {
            write_picture(typed.out, utc_s);
        }
        draw(utc_s, on_terminal);
        wait_for_the_next(utc_s);
    }
}

void show(const Typed& typed, const Context& context) {
    typed.once || context.json ? show_once(typed, context) : show_on(typed);
}

}  // namespace

void add_clock(CLI::App& app, Context& context) {
    auto typed = std::make_shared<Typed>();
    auto* command = add_command(
        app, context, "clock",
        "show the running time as a code; a photo of it tells how wrong a camera's clock is", false);
    command->add_option("--out", typed->out, "write it as a picture too (PNG), anew every second");
    command->add_flag("--once", typed->once, "show or write it once and end");
    command->callback([typed, &context] { show(*typed, context); });
}

}  // namespace stripbook::cli
