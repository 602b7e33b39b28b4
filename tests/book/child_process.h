// A second process, to test what two of them do to one book, and what a killed one leaves.
#pragma once

#include <catch2/catch.hpp>

#include <csignal>
#include <cstdlib>
#include <exception>
#include <functional>
#include <string>

#include <sys/wait.h>
#include <unistd.h>

namespace stripbook::test {

/// Runs `work` in a forked process. What it says through `tell` can be waited for; it ends when `work`
/// returns.
class ChildProcess {
  public:
    using Tell = std::function<void(const std::string& line)>;

    explicit ChildProcess(const std::function<void(const Tell& tell)>& work) {
        int ends[2];
        REQUIRE(pipe(ends) == 0);
        id_ = fork();
        REQUIRE(id_ >= 0);
        if (id_ == 0) {
            close(ends[0]);
            run(work, ends[1]);
        }
        close(ends[1]);
        from_child_ = ends[0];
    }
    ChildProcess(const ChildProcess&) = delete;
    ChildProcess& operator=(const ChildProcess&) = delete;
    ~ChildProcess() {
        end_with(SIGKILL);
        close(from_child_);
    }

    [[nodiscard]] pid_t id() const { return id_; }

    /// The next line the child tells; empty when it has ended.
    std::string heard() {
        std::string line;
        for (char c = 0; read(from_child_, &c, 1) == 1 && c != '\n';) {
            line += c;
        }
        return line;
    }

    /// Ends the child like a power cut would, and waits until it is gone.
    void end_with(int signal_number) {
        if (id_ > 0) {
            kill(id_, signal_number);
            waitpid(id_, nullptr, 0);
            id_ = 0;
        }
    }

    /// Whether `work` ran to its end without throwing.
    bool ended_well() {
        int status = 0;
        waitpid(id_, &status, 0);
        id_ = 0;
        return WIFEXITED(status) && WEXITSTATUS(status) == 0;
    }

  private:
    [[noreturn]] static void run(const std::function<void(const Tell& tell)>& work, int to_parent) {
        const Tell tell = [to_parent](const std::string& line) {
            const std::string with_end = line + "\n";
            if (write(to_parent, with_end.data(), with_end.size()) < 0) {
                _exit(2);
            }
        };
        try {
            work(tell);
        } catch (const std::exception& error) {
            tell(error.what());
            _exit(1);
        }
        _exit(0);
    }

    pid_t id_ = 0;
    int from_child_ = -1;
};

/// Gives up root for good, where the process has it. For children only.
inline void become_nobody() {
    constexpr unsigned nobody = 65534;
    if (getuid() == 0 && (setgid(nobody) != 0 || setuid(nobody) != 0)) {
        _exit(3);
    }
}

}  // namespace stripbook::test
