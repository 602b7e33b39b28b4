// Runs programs as a person would: the built stripbook, and independent tools to look at what it made.
#pragma once

#include <filesystem>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "where.h"

namespace stripbook::test {

struct Ran {
    int status = 0;  ///< exit status; 128 + signal when ended by one
    std::string out;
    std::string err;
};

/// Runs `words[0]` with the rest as arguments, in `folder` (default: where the tests run).
Ran run(const std::vector<std::string>& words, const std::filesystem::path& folder = ".");

/// Runs the built program.
Ran run_stripbook(std::vector<std::string> arguments, const std::filesystem::path& folder = ".");

/// Runs the built program with --json and gives its answer; fails the test when that is no JSON.
nlohmann::json stripbook_json(std::vector<std::string> arguments);

/// Starts the built program in the background and gives its process number; `wait_for` gives its exit status.
int start_stripbook(std::vector<std::string> arguments);
int wait_for(int process);

}  // namespace stripbook::test
