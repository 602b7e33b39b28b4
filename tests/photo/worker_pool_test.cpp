#include "photo/worker_pool.h"

#include <dirent.h>
#include <fcntl.h>
#include <fmt/format.h>
#include <pthread.h>
#include <sys/mman.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <atomic>
#include <catch2/catch.hpp>
#include <cerrno>
#include <chrono>
#include <csignal>
#include <cstdlib>
#include <cstring>
#include <exception>
#include <fstream>
#include <map>
#include <opencv2/core.hpp>
#include <opencv2/imgproc.hpp>
#include <set>
#include <stdexcept>
#include <thread>

#include "errors.h"
#include "scratch_folder.h"

using stripbook::photo::Outcome;
using stripbook::photo::run_in_workers;
using stripbook::photo::WorkerLimits;
using End = stripbook::photo::Outcome::End;

namespace {

using Outcomes = std::map<std::size_t, Outcome>;

// The time limit where time is not what a test is about: moving hundreds of megabytes takes as long as the
// other programs on the machine let it. A standstill still ends within the runner's own limit.
constexpr double ample_seconds = 200;

int open_files() {
    int count = 0;
    DIR* folder = opendir("/proc/self/fd");
    REQUIRE(folder != nullptr);
    while (readdir(folder) != nullptr) {
        ++count;
    }
    closedir(folder);
    return count;
}

// No child of ours, running or dead and not reaped.
bool no_children() {
    return waitpid(-1, nullptr, WNOHANG) == -1 && errno == ECHILD;
}

Outcomes run(const stripbook::photo::Work& work, const std::vector<std::string>& jobs,
             const WorkerLimits& limits = {2, 20, 300}) {
    Outcomes outcomes;
    const int files_before = open_files();
    run_in_workers(work, jobs, limits, [&](std::size_t index, const Outcome& outcome) {
        CHECK(outcomes.count(index) == 0);
        outcomes[index] = outcome;
    });
    CHECK(no_children());
    CHECK(open_files() == files_before);
    CHECK(outcomes.size() == jobs.size());
    return outcomes;
}

// One good job on either side of a bad one: the good ones must come through.
Outcome outcome_of_bad_job(const std::function<std::string()>& bad, WorkerLimits limits = {1, 20, 300}) {
    const auto outcomes = run([&](const std::string& job) { return job == "bad" ? bad() : "read " + job; },
                              {"first", "bad", "last"}, limits);
    CHECK(outcomes.at(0).end == End::done);
    CHECK(outcomes.at(0).bytes == "read first");
    CHECK(outcomes.at(2).end == End::done);
    CHECK(outcomes.at(2).bytes == "read last");
    const Outcome& bad_one = outcomes.at(1);
    CHECK(bad_one.note.empty() == (bad_one.end == End::done));
    CHECK(bad_one.note.find('\n') == std::string::npos);
    return bad_one;
}

[[noreturn]] void loop_for_ever() {
    for (std::atomic<unsigned> turns = 0;; ++turns) {
    }
}

// Touches every page of ever more memory.
std::string eat_memory() {
    std::vector<std::vector<char>> eaten;
    for (;;) {
        eaten.emplace_back(std::size_t{16} << 20U, 'x');
    }
}

// While it lives, a forked child stands still (as on a machine with no time or memory for it) until it is
// told to go on.
class ChildrenStandStill {
  public:
    ChildrenStandStill() {
        static const int hooked = pthread_atfork(nullptr, nullptr, [] {
            if (wanted) {
                raise(SIGSTOP);
            }
        });
        REQUIRE(hooked == 0);
        wanted = true;
    }
    ~ChildrenStandStill() { wanted = false; }
    ChildrenStandStill(const ChildrenStandStill&) = delete;
    ChildrenStandStill& operator=(const ChildrenStandStill&) = delete;

    static void go_on() {
        std::ifstream children(fmt::format("/proc/{0}/task/{0}/children", getpid()));
        for (pid_t child = 0; children >> child;) {
            kill(child, SIGCONT);
        }
    }

  private:
    static inline bool wanted = false;
};

double seconds_since(std::chrono::steady_clock::time_point start) {
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

}  // namespace

TEST_CASE("Every job gets its own answer, whatever bytes it holds", "[photo][workers]") {
    const std::string every_byte = [] {
        std::string bytes;
        for (int i = 0; i < 256; ++i) {
            bytes += static_cast<char>(i);
        }
        return bytes;
    }();
    const auto outcomes = run([](const std::string& job) { return job + job; }, {"", "a", every_byte});
    CHECK(outcomes.at(0).bytes.empty());
    CHECK(outcomes.at(1).bytes == "aa");
    CHECK(outcomes.at(2).bytes == every_byte + every_byte);
    CHECK(outcomes.at(0).end == End::done);
}

TEST_CASE("No jobs start no worker", "[photo][workers]") {
    CHECK(run([](const std::string&) -> std::string { std::abort(); }, {}).empty());
}

TEST_CASE("A thousand small jobs are each answered once, by no more processes than allowed",
          "[photo][workers]") {
    std::vector<std::string> jobs(1000);
    for (std::size_t i = 0; i < jobs.size(); ++i) {
        jobs[i] = std::to_string(i);
    }
    const auto outcomes =
        run([](const std::string& job) { return fmt::format("{} {}", job, getpid()); }, jobs, {3, 20, 300});
    std::set<std::string> processes;
    for (const auto& [index, outcome] : outcomes) {
        REQUIRE(outcome.end == End::done);
        const auto space = outcome.bytes.find(' ');
        REQUIRE(outcome.bytes.substr(0, space) == jobs[index]);
        processes.insert(outcome.bytes.substr(space + 1));
    }
    CHECK(processes.size() <= 3);
    CHECK(processes.count(std::to_string(getpid())) == 0);
}

TEST_CASE("Two jobs start at most two processes even where five are allowed", "[photo][workers]") {
    // Each job counts the children of its parent, itself included.
    const auto outcomes = run(
        [](const std::string&) {
            std::this_thread::sleep_for(std::chrono::milliseconds(200));
            std::ifstream children(fmt::format("/proc/{0}/task/{0}/children", getppid()));
            int count = 0;
            for (pid_t child = 0; children >> child;) {
                ++count;
            }
            return std::to_string(count);
        },
        {"a", "b"}, {5, 20, 300});
    CHECK(outcomes.at(0).bytes == "2");
    CHECK(outcomes.at(1).bytes == "2");
}

TEST_CASE("Answers come in the order in which jobs end, not in which they began", "[photo][workers]") {
    std::vector<std::size_t> order;
    run_in_workers(
        [](const std::string& job) {
            std::this_thread::sleep_for(std::chrono::milliseconds(std::stoi(job)));
            return job;
        },
        {"600", "10", "10"}, {2, 20, 300},
        [&](std::size_t index, const Outcome&) { order.push_back(index); });
    CHECK(order == std::vector<std::size_t>{1, 2, 0});
}

TEST_CASE("A job that aborts costs that job alone", "[photo][workers]") {
    const auto outcome = outcome_of_bad_job([]() -> std::string { std::abort(); });
    CHECK(outcome.end == End::died);
    CHECK(outcome.note == "the reading crashed (a check inside a library failed)");
}

TEST_CASE("A job that terminates costs that job alone", "[photo][workers]") {
    const auto outcome = outcome_of_bad_job([]() -> std::string { std::terminate(); });
    CHECK(outcome.end == End::died);
    CHECK(outcome.note == "the reading crashed (a check inside a library failed)");
}

TEST_CASE("A job that touches memory not its own costs that job alone", "[photo][workers]") {
    const auto outcome = outcome_of_bad_job([]() -> std::string {
        // A page nobody may touch, rather than a null pointer, which compilers and sanitizers see coming.
        void* page = mmap(nullptr, 4096, PROT_NONE, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0);
        return std::string(static_cast<const char*>(page), 1);
    });
    CHECK(outcome.end == End::died);
    CHECK(outcome.note == "the reading crashed (it touched memory that is not its own)");
}

TEST_CASE("A job that is killed from outside costs that job alone", "[photo][workers]") {
    const auto outcome = outcome_of_bad_job([]() -> std::string {
        kill(getpid(), SIGKILL);
        loop_for_ever();
    });
    CHECK(outcome.end == End::died);
    CHECK(outcome.note.find("killed from outside") != std::string::npos);
}

TEST_CASE("A job that ends its process costs that job alone", "[photo][workers]") {
    const auto outcome = outcome_of_bad_job([]() -> std::string { _exit(7); });
    CHECK(outcome.end == End::died);
    CHECK(outcome.note == "the reading ended itself with status 7");
}

TEST_CASE("A job that loops for ever is ended at the time limit", "[photo][workers]") {
    const auto start = std::chrono::steady_clock::now();
    const auto outcome = outcome_of_bad_job([]() -> std::string { loop_for_ever(); }, {1, 0.5, 300});
    CHECK(outcome.end == End::overran);
    CHECK(outcome.note == "the reading took longer than the 0.5 s it may take");
    CHECK(seconds_since(start) >= 0.5);
    CHECK(seconds_since(start) < 3);
}

TEST_CASE("A job that eats memory is ended at the memory limit", "[photo][workers]") {
    const auto outcome = outcome_of_bad_job(eat_memory, {1, 20, 300});
    CHECK(outcome.end == End::grew);
    CHECK(outcome.note == "the reading needed more memory than the 300 MiB it may have");
}

TEST_CASE("A job that eats memory slowly is ended by the watch", "[photo][workers]") {
    const auto outcome = outcome_of_bad_job(
        []() -> std::string {
            std::vector<std::vector<char>> eaten;
            for (;;) {
                eaten.emplace_back(std::size_t{8} << 20U, 'x');
                std::this_thread::sleep_for(std::chrono::milliseconds(20));
            }
        },
        {1, 30, 200});
    CHECK(outcome.end == End::grew);
}

TEST_CASE("Running out of memory inside the work counts as having grown", "[photo][workers]") {
    CHECK(outcome_of_bad_job([]() -> std::string { throw std::bad_alloc(); }).end == End::grew);
    CHECK(outcome_of_bad_job([]() -> std::string {
              throw cv::Exception(cv::Error::StsNoMem, "no memory", "here", "file", 1);
          }).end == End::grew);
}

#ifndef __SANITIZE_ADDRESS__  // there the address space is not limited: a refused allocation aborts
TEST_CASE("One allocation far over the limit counts as having grown", "[photo][workers]") {
    const auto outcome =
        outcome_of_bad_job([]() -> std::string { return std::string(std::size_t{8} << 30U, 'x'); });
    CHECK(outcome.end == End::grew);
}
#endif

TEST_CASE("What the work throws comes back as its message in one line", "[photo][workers]") {
    const auto ours =
        outcome_of_bad_job([]() -> std::string { throw stripbook::BadFile("torn\nand \x1b[31mred\xFF"); });
    CHECK(ours.end == End::failed);
    CHECK(ours.note == "torn and  [31mred\xEF\xBF\xBD");
    const auto other = outcome_of_bad_job([]() -> std::string { throw std::runtime_error("odd"); });
    CHECK(other.end == End::failed);
    CHECK(other.note == "unexpected failure: odd");
    const auto odd = outcome_of_bad_job([]() -> std::string { throw 5; });
    CHECK(odd.end == End::failed);
}

TEST_CASE("A job that closes the pipe costs that job alone", "[photo][workers]") {
    const auto goes_on = outcome_of_bad_job([]() -> std::string {
        close_range(3, ~0U, 0);
        loop_for_ever();
    });
    CHECK(goes_on.end == End::died);
    CHECK(goes_on.note == "the reading went wrong (it cut its connection to the program)");
    const auto returns = outcome_of_bad_job([]() -> std::string {
        close_range(3, ~0U, 0);
        return "lost";
    });
    CHECK(returns.end == End::died);
}

TEST_CASE("A job that writes nonsense into the pipe costs that job alone", "[photo][workers]") {
    for (const std::string& nonsense : {std::string(64, 'z'), "d" + std::string(8, '\xFF')}) {
        const auto outcome = outcome_of_bad_job([&]() -> std::string {
            for (int file = 3; file < 64; ++file) {
                static_cast<void>(!write(file, nonsense.data(), nonsense.size()));
            }
            return "too late";
        });
        CHECK(outcome.end == End::died);
        CHECK(outcome.note == "the reading went wrong (its answer makes no sense)");
    }
}

TEST_CASE("Answers of hundreds of megabytes come whole, two at a time", "[photo][workers]") {
    static constexpr std::size_t length = std::size_t{200} << 20U;
    const auto check = [](std::size_t, const Outcome& outcome) {
        REQUIRE(outcome.end == End::done);
        REQUIRE(outcome.bytes.size() == length);
        CHECK(outcome.bytes.front() == outcome.bytes.back());
        CHECK(outcome.bytes.find_first_not_of(outcome.bytes.front()) == std::string::npos);
    };
    run_in_workers([](const std::string& job) { return std::string(length, job[0]); }, {"a", "b", "c"},
                   {2, ample_seconds, 1000}, check);
    CHECK(no_children());
}

TEST_CASE("Jobs of hundreds of megabytes do not count against the worker", "[photo][workers]") {
    const std::vector<std::string> jobs(3, std::string(std::size_t{200} << 20U, 'j'));
    const auto outcomes =
        run([](const std::string& job) { return std::to_string(job.size()); }, jobs, {2, ample_seconds, 100});
    CHECK(outcomes.at(2).end == End::done);
    CHECK(outcomes.at(2).bytes == std::to_string(std::size_t{200} << 20U));
}

TEST_CASE("A worker that is slow to take a long job gets it whole", "[photo][workers]") {
    const ChildrenStandStill children;
    const std::string job(std::size_t{50} << 20U, 'j');
    int asked = 0;
    std::vector<Outcome> outcomes;
    run_in_workers([](const std::string& taken) { return std::to_string(taken.size()); }, {job, job},
                   {2, 20, 300}, [&](std::size_t, const Outcome& outcome) { outcomes.push_back(outcome); },
                   [&] {
                       constexpr int questions = 50;  // some seconds
                       if (++asked > questions) {
                           ChildrenStandStill::go_on();
                       }
                       return false;
                   });
    REQUIRE(outcomes.size() == 2);
    for (const auto& outcome : outcomes) {
        CHECK(outcome.end == End::done);
        CHECK(outcome.bytes == std::to_string(job.size()));
    }
}

TEST_CASE("A job is not charged for what earlier jobs of its worker left behind", "[photo][workers]") {
    // Each leaks 40 MiB of a limit of 100: the third would be over it in the same process.
    const auto outcomes = run(
        [](const std::string& job) {
            static std::vector<std::string*> leaked;
            leaked.push_back(new std::string(std::size_t{40} << 20U, 'l'));
            std::this_thread::sleep_for(std::chrono::milliseconds(150));
            return job;
        },
        {"1", "2", "3", "4", "5", "6"}, {1, 20, 100});
    for (const auto& [index, outcome] : outcomes) {
        CHECK(outcome.end == End::done);
    }
}

TEST_CASE("Asked to stop, it ends the workers within a moment and throws Stopped", "[photo][workers]") {
    const auto start = std::chrono::steady_clock::now();
    int done = 0;
    const auto work = [](const std::string& job) -> std::string {
        if (job == "long") {
            loop_for_ever();
        }
        return job;
    };
    const int files_before = open_files();
    CHECK_THROWS_AS(
        run_in_workers(
            work, {"a", "long", "b", "long"}, {2, 20, 300}, [&](std::size_t, const Outcome&) { ++done; },
            [&] { return seconds_since(start) > 0.3; }),
        stripbook::Stopped);
    CHECK(seconds_since(start) < 2);
    CHECK(done == 2);
    CHECK(no_children());
    CHECK(open_files() == files_before);
}

TEST_CASE("The stop question comes at least ten times a second while nothing happens", "[photo][workers]") {
    int asked = 0;
    run_in_workers(
        [](const std::string& job) {
            std::this_thread::sleep_for(std::chrono::seconds(1));
            return job;
        },
        {"a"}, {1, 20, 300}, [](std::size_t, const Outcome&) {},
        [&] {
            ++asked;
            return false;
        });
    CHECK(asked >= 10);
    CHECK(asked < 200);  // and it does not spin
}

TEST_CASE("What the report throws comes out after all workers were ended", "[photo][workers]") {
    const int files_before = open_files();
    const auto work = [](const std::string& job) -> std::string {
        if (job == "long") {
            loop_for_ever();
        }
        return job;
    };
    CHECK_THROWS_AS(run_in_workers(work, {"long", "a", "b"}, {2, 20, 300},
                                   [](std::size_t, const Outcome&) { throw std::logic_error("report"); }),
                    std::logic_error);
    CHECK(no_children());
    CHECK(open_files() == files_before);
}

TEST_CASE("The time the report takes is not the worker's", "[photo][workers]") {
    std::size_t done = 0;
    run_in_workers(
        [](const std::string& job) {
            std::this_thread::sleep_for(std::chrono::milliseconds(std::stoi(job)));
            return job;
        },
        {"1", "700", "1"}, {2, 1, 300},
        [&](std::size_t, const Outcome& outcome) {
            done += outcome.end == End::done ? 1 : 0;
            std::this_thread::sleep_for(std::chrono::milliseconds(900));
        });
    CHECK(done == 3);
}

TEST_CASE("A worker holds no file of the parent and writes nothing to its terminal", "[photo][workers]") {
    const stripbook::test::ScratchFolder folder;
    const std::string path = (folder / "held open").string();
    const int held = open(path.c_str(), O_CREAT | O_RDWR, 0600);
    REQUIRE(held >= 0);
    const auto outcomes = run(
        [&](const std::string&) {
            const bool can_write = write(held, "x", 1) == 1;
            std::array<char, 256> terminal{};
            const auto length = readlink("/proc/self/fd/1", terminal.data(), terminal.size());
            const bool interrupt_ignored = std::signal(SIGINT, SIG_DFL) == SIG_IGN;
            return fmt::format("{} {} {}", can_write,
                               std::string(terminal.data(), static_cast<std::size_t>(length)),
                               interrupt_ignored);
        },
        {"a"});
    close(held);
    CHECK(outcomes.at(0).bytes == "false /dev/null true");
    CHECK(std::filesystem::file_size(path) == 0);
}

TEST_CASE("It works when the parent was started without standard files", "[photo][workers]") {
    const pid_t parent = fork();
    REQUIRE(parent >= 0);
    if (parent == 0) {
        close(0);
        close(1);
        close(2);
        std::string answers;
        run_in_workers([](const std::string& job) { return job + "!"; }, {"a", "b"}, {1, 20, 300},
                       [&](std::size_t, const Outcome& outcome) { answers += outcome.bytes; });
        _exit(answers == "a!b!" ? 0 : 1);
    }
    int status = 0;
    REQUIRE(waitpid(parent, &status, 0) == parent);
    CHECK(WIFEXITED(status));
    CHECK(WEXITSTATUS(status) == 0);
}

TEST_CASE("Workers end with a parent that is killed", "[photo][workers]") {
    const stripbook::test::ScratchFolder folder;
    const auto note = folder / "worker";
    const pid_t parent = fork();
    REQUIRE(parent >= 0);
    if (parent == 0) {
        const auto work = [&](const std::string&) -> std::string {
            std::ofstream(note) << getpid() << std::endl;
            loop_for_ever();
        };
        run_in_workers(work, {"a"}, {1, 60, 300}, [](std::size_t, const Outcome&) {});
        _exit(0);
    }
    pid_t worker = 0;
    for (int tries = 0; tries < 200 && worker == 0; ++tries) {
        std::this_thread::sleep_for(std::chrono::milliseconds(20));
        std::ifstream(note) >> worker;
    }
    REQUIRE(worker > 0);
    kill(parent, SIGKILL);
    waitpid(parent, nullptr, 0);
    // The orphan is reaped by whoever inherits it, or stays dead and unreaped ("Z") where nobody does.
    std::string state = "running";
    for (int tries = 0; tries < 100 && state == "running"; ++tries) {
        std::this_thread::sleep_for(std::chrono::milliseconds(20));
        std::ifstream stat(fmt::format("/proc/{}/stat", worker));
        std::string line;
        if (!std::getline(stat, line) || line.substr(line.rfind(')') + 2, 1) == "Z") {
            state = "gone";
        }
    }
    CHECK(state == "gone");
}

TEST_CASE("Work may use OpenCV after the parent used all of its threads", "[photo][workers]") {
    cv::Mat noise(2000, 2000, CV_8UC1);
    cv::randu(noise, 0, 255);
    cv::Mat expected;
    cv::GaussianBlur(noise, expected, {31, 31}, 5);
    cv::parallel_for_(
        {0, 64}, [](const cv::Range&) {}, 64);
    const auto outcomes = run(
        [&](const std::string&) {
            cv::Mat blurred;
            cv::GaussianBlur(noise, blurred, {31, 31}, 5);
            cv::parallel_for_(
                {0, 64}, [](const cv::Range&) {}, 64);
            return std::to_string(cv::norm(blurred, expected, cv::NORM_INF));
        },
        {"a", "b"});
    CHECK(outcomes.at(0).bytes == std::to_string(0.0));
    CHECK(outcomes.at(1).bytes == std::to_string(0.0));
}
