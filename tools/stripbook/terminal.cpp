#include "terminal.h"

#include <fmt/format.h>
#include <unistd.h>

#include <cmath>
#include <csignal>
#include <cstdio>

#include "dump/room_check.h"

namespace stripbook::cli {

namespace {

volatile std::sig_atomic_t stop_flag = 0;

extern "C" void on_stop_signal(int number) {
    if (stop_flag != 0) {
        std::signal(number, SIG_DFL);
        std::raise(number);
    }
    stop_flag = 1;
}

std::string time_left(double seconds) {
    if (!std::isfinite(seconds) || seconds > 360000) {
        return "";
    }
    const auto whole = static_cast<long>(std::ceil(seconds));
    return whole < 60 ? fmt::format(", {} s left", whole)
                      : fmt::format(", {}:{:02} min left", whole / 60, whole % 60);
}

}  // namespace

void install_stop_signals() {
    struct sigaction action {};
    action.sa_handler = on_stop_signal;
    sigemptyset(&action.sa_mask);
    action.sa_flags = SA_RESTART;
    sigaction(SIGINT, &action, nullptr);
    sigaction(SIGTERM, &action, nullptr);
    std::signal(SIGPIPE, SIG_IGN);
}

bool stop_requested() {
    return stop_flag != 0;
}

Progress::Progress(std::string what, bool bytes)
    : what_(std::move(what)), bytes_(bytes), on_terminal_(isatty(STDERR_FILENO) == 1) {}

Progress::~Progress() {
    if (drawn_) {
        std::fputs("\r\033[K", stderr);
        std::fflush(stderr);
    }
}

std::string Progress::amount(double count) const {
    return bytes_ ? dump::size_text(static_cast<std::uint64_t>(count)) : fmt::format("{:.1f}", count);
}

void Progress::show(std::uint64_t done, std::uint64_t all) {
    if (all == 0) {
        return;
    }
    if (on_terminal_) {
        draw_bar(done, all);
    } else {
        print_tenth(done, all);
    }
}

void Progress::draw_bar(std::uint64_t done, std::uint64_t all) {
    constexpr int width = 30;
    const double share = static_cast<double>(done) / static_cast<double>(all);
    const std::chrono::duration<double> passed = std::chrono::steady_clock::now() - start_;
    const double rate = static_cast<double>(done) / std::max(passed.count(), 1e-3);
    const auto full = static_cast<int>(share * width);
    const std::string bar = std::string(static_cast<std::size_t>(full), '#') +
                            std::string(static_cast<std::size_t>(width - full), '.');
    const std::string counts = bytes_ ? fmt::format("{} of {}", dump::size_text(done), dump::size_text(all))
                                      : fmt::format("{} of {}", done, all);
    fmt::print(stderr, "\r\033[K{} [{}] {}, {}/s{}", what_, bar, counts, amount(rate),
               time_left(static_cast<double>(all - done) / std::max(rate, 1e-9)));
    std::fflush(stderr);
    drawn_ = true;
}

void Progress::print_tenth(std::uint64_t done, std::uint64_t all) {
    const std::uint64_t tenth = done * 10 / all;
    if (tenth == last_tenth_) {
        return;
    }
    last_tenth_ = tenth;
    fmt::print(stderr, "{}: {} %\n", what_, tenth * 10);
}

}  // namespace stripbook::cli
