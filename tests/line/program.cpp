#include "program.h"

#include <fcntl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <fstream>

#include "scratch_folder.h"

namespace stripbook::test {

namespace {

std::string text_of(const std::filesystem::path& file) {
    std::ifstream in(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

[[noreturn]] void become(const std::vector<std::string>& words, const std::filesystem::path& folder,
                         const std::filesystem::path& out, const std::filesystem::path& err) {
    const int in_file = open("/dev/null", O_RDONLY);
    const int out_file = open(out.c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0644);
    const int err_file = open(err.c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0644);
    dup2(in_file, STDIN_FILENO);
    dup2(out_file, STDOUT_FILENO);
    dup2(err_file, STDERR_FILENO);
    std::vector<char*> arguments;
    for (const auto& word : words) {
        arguments.push_back(const_cast<char*>(word.c_str()));
    }
    arguments.push_back(nullptr);
    if (chdir(folder.c_str()) == 0) {
        execvp(arguments[0], arguments.data());
    }
    _exit(127);
}

}  // namespace

Ran run(const std::vector<std::string>& words, const std::filesystem::path& folder) {
    const ScratchFolder scratch;
    const pid_t child = fork();
    REQUIRE(child >= 0);
    if (child == 0) {
        become(words, folder, scratch / "out", scratch / "err");
    }
    return {wait_for(child), text_of(scratch / "out"), text_of(scratch / "err")};
}

Ran run_stripbook(std::vector<std::string> arguments, const std::filesystem::path& folder) {
    arguments.insert(arguments.begin(), program_path().string());
    return run(arguments, folder);
}

nlohmann::json stripbook_json(std::vector<std::string> arguments) {
    arguments.emplace_back("--json");
    const Ran ran = run_stripbook(arguments);
    INFO(ran.err);
    INFO(ran.out);
    const auto answer = nlohmann::json::parse(ran.out, nullptr, false);
    REQUIRE_FALSE(answer.is_discarded());
    return answer;
}

int start_stripbook(std::vector<std::string> arguments) {
    arguments.insert(arguments.begin(), program_path().string());
    const pid_t child = fork();
    REQUIRE(child >= 0);
    if (child == 0) {
        become(arguments, ".", "/dev/null", "/dev/null");
    }
    return child;
}

int wait_for(int process) {
    int status = 0;
    REQUIRE(waitpid(process, &status, 0) == process);
    return WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
}

}  // namespace stripbook::test
