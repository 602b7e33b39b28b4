// Runs a command line tool: truth from outside the project.
#pragma once

#include <filesystem>
#include <string>

namespace stripbook::test {

struct CommandResult {
    int status = 0;      ///< exit status
    std::string output;  ///< standard output
};

/// Through the shell. Fails the test when the command cannot be started.
CommandResult run(const std::string& command);

/// In single quotes for the shell.
std::string quoted(const std::filesystem::path& path);

std::string bytes_of(const std::filesystem::path& file);

}  // namespace stripbook::test
