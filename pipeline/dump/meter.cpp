#include "dump/meter.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "book/paths.h"
#include "errors.h"

namespace stripbook::dump {

namespace {

constexpr std::chrono::milliseconds least_pause{100};

}  // namespace

Meter::Meter(std::function<void(const Progress&)> progress, std::function<bool()> stop, std::string next)
    : tell_(std::move(progress)), stop_(std::move(stop)), next_(std::move(next)) {}

void Meter::expect(std::uint64_t bytes, std::size_t files) {
    progress_.bytes_all = bytes;
    progress_.files_all = files;
}

void Meter::begin_file(const std::string& name) {
    progress_.current = book::printable_name(name);
    pause();
}

void Meter::end_file() {
    ++progress_.files_done;
    pause();
}

void Meter::advance(std::size_t bytes) {
    progress_.bytes_done += bytes;
    // A file may have grown since the card was looked through.
    progress_.bytes_all = std::max(progress_.bytes_all, progress_.bytes_done);
    if (stop_ && progress_.files_done < progress_.files_all && stop_()) {
        throw Stopped("stopped after " + files_text() + "; " + next_);
    }
    const auto now = std::chrono::steady_clock::now();
    if (tell_ && (!told_before_ || now - told_ >= least_pause)) {
        told_before_ = true;
        told_ = now;
        tell_(progress_);
    }
}

std::string Meter::files_text() const {
    return fmt::format("{} of {} files", progress_.files_done, progress_.files_all);
}

}  // namespace stripbook::dump
