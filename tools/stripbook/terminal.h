// The terminal: progress and Ctrl-C.
#pragma once

#include <chrono>
#include <cstdint>
#include <string>

namespace stripbook::cli {

/// Ctrl-C and a polite kill set a flag; a second Ctrl-C ends the program at once.
void install_stop_signals();
bool stop_requested();

/// A line of progress on standard error: a bar with rate and time left on a terminal, else a plain line every
/// ten per cent.
class Progress {
  public:
    /// `what`: "Copying", "Reading". `bytes`: the counts are bytes, else photos or files.
    Progress(std::string what, bool bytes);
    ~Progress();
    Progress(const Progress&) = delete;
    Progress& operator=(const Progress&) = delete;
    void show(std::uint64_t done, std::uint64_t all);

  private:
    void draw_bar(std::uint64_t done, std::uint64_t all);
    void print_tenth(std::uint64_t done, std::uint64_t all);
    [[nodiscard]] std::string amount(double count) const;

    std::string what_;
    bool bytes_;
    bool on_terminal_;
    bool drawn_ = false;
    std::uint64_t last_tenth_ = 0;
    std::chrono::steady_clock::time_point start_ = std::chrono::steady_clock::now();
};

}  // namespace stripbook::cli
