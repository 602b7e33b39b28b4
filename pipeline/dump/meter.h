// How far long work is, and whether a person has stopped it.
#pragma once

#include <chrono>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <string>

namespace stripbook::dump {

struct Progress {
    std::uint64_t bytes_done = 0, bytes_all = 0;
    std::size_t files_done = 0, files_all = 0;
    std::string current;  ///< printable name
};

class Meter {
  public:
    /// `next` ends the line of Stopped: what the person does to go on.
    Meter(std::function<void(const Progress&)> progress, std::function<bool()> stop, std::string next);

    void expect(std::uint64_t bytes, std::size_t files);
    /// `name` is raw.
    void begin_file(const std::string& name);
    void end_file();
    /// To be called between chunks. Throws Stopped when the person has asked for it; tells the progress at
    /// most ten times a second.
    void advance(std::size_t bytes);
    /// The same without getting on: while reading back.
    void pause() { advance(0); }

    /// "12 of 40 files"
    [[nodiscard]] std::string files_text() const;

  private:
    std::function<void(const Progress&)> tell_;
    std::function<bool()> stop_;
    std::string next_;
    Progress progress_;
    std::chrono::steady_clock::time_point told_;
    bool told_before_ = false;
};

}  // namespace stripbook::dump
