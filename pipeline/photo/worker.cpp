#include "photo/worker.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <csignal>
#include <cstring>
#include <thread>

#include "errors.h"
#include "photo/process_memory.h"
#include "photo/worker_process.h"

namespace stripbook::photo {

namespace {

constexpr const char* cannot_start =
    "no worker process for reading photos could be started ({}): close other programs and run the command "
    "again";

// Keeps handlers of the parent from running in the child before the child has put them away.
class SignalsHeldBack {
  public:
    SignalsHeldBack() {
        sigset_t all;
        sigfillset(&all);
        sigprocmask(SIG_SETMASK, &all, &before_);
    }
    ~SignalsHeldBack() { sigprocmask(SIG_SETMASK, &before_, nullptr); }
    SignalsHeldBack(const SignalsHeldBack&) = delete;
    SignalsHeldBack& operator=(const SignalsHeldBack&) = delete;

  private:
    sigset_t before_{};
};

std::string how_a_signal_reads(int signal_number) {
    switch (signal_number) {
        case SIGSEGV:
        case SIGBUS:
            return "the reading crashed (it touched memory that is not its own)";
        case SIGABRT:
            return "the reading crashed (a check inside a library failed)";
        case SIGFPE:
        case SIGILL:
            return "the reading crashed (an impossible operation)";
        case SIGKILL:
            return "the reading was killed from outside, perhaps because the computer ran out of memory";
        default:
            return fmt::format("the reading was ended by signal {}", signal_number);
    }
}

std::string how_it_ended(int wait_status) {
    if (WIFSIGNALED(wait_status)) {
        return how_a_signal_reads(WTERMSIG(wait_status));
    }
    return fmt::format("the reading ended itself with status {}", WEXITSTATUS(wait_status));
}

// True when the process has ended within `patience`; its status is then in `wait_status` and it is reaped.
bool reaped_within(pid_t process, std::chrono::milliseconds patience, int& wait_status) {
    const auto until = Worker::Clock::now() + patience;
    for (;;) {
        if (waitpid(process, &wait_status, WNOHANG) != 0) {
            return true;
        }
        if (Worker::Clock::now() >= until) {
            return false;
        }
        std::this_thread::sleep_for(std::chrono::milliseconds(1));
    }
}

}  // namespace

Worker::Worker(const Work& work, const WorkerLimits& limits) : limits_(limits) {
    std::array<int, 2> ends{};
    if (socketpair(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC, 0, ends.data()) != 0) {
        throw OutsideError(fmt::format(cannot_start, "no pipe"));
    }
    const pid_t parent = getpid();
    const SignalsHeldBack until_the_child_is_on_its_own;
    process_ = fork();
    if (process_ == 0) {
        close(ends[0]);
        be_a_worker(ends[1], parent, work, limits);
    }
    close(ends[1]);
    if (process_ < 0) {
        close(ends[0]);
        throw OutsideError(fmt::format(cannot_start, "too many processes or too little memory"));
    }
    pipe_ = ends[0];
    fcntl(pipe_, F_SETFL, O_NONBLOCK);
    // What the child shares with the parent counts as resident in both from the fork on.
    bytes_at_start_ = memory_of(process_).resident_bytes;
}

Worker::~Worker() {
    kill_and_reap();
    close(pipe_);
}

void Worker::kill_and_reap() {
    if (process_ < 0) {
        return;
    }
    kill(process_, SIGKILL);
    while (waitpid(process_, nullptr, 0) < 0 && errno == EINTR) {
    }
    process_ = -1;
}

bool Worker::begin(std::size_t number, std::string& job) {
    busy_ = true;
    job_ = number;
    job_length_ = job.size();
    head_received_ = 0;
    bytes_.clear();
    deadline_ = Clock::now() +
                std::chrono::duration_cast<Clock::duration>(std::chrono::duration<double>(limits_.seconds));
    const JobLength length = job.size();
    if (send(pipe_, &length, sizeof length, MSG_NOSIGNAL) != sizeof length) {
        return false;  // an idle worker's pipe has room for so little, if there is anybody
    }
    unsent_ = std::move(job);
    sent_ = 0;
    send_more();
    return true;
}

// A worker that is gone takes no more; `receive` then says how it ended.
void Worker::send_more() {
    constexpr int most_blocks = 64;  // then the others and the stop question have their turn
    for (int block = 0; block < most_blocks && sent_ < unsent_.size(); ++block) {
        const ssize_t count = send(pipe_, &unsent_[sent_], unsent_.size() - sent_, MSG_NOSIGNAL);
        if (count < 0 && (errno == EAGAIN || errno == EWOULDBLOCK || errno == EINTR)) {
            return;
        }
        sent_ = count < 0 ? unsent_.size() : sent_ + static_cast<std::size_t>(count);
    }
    if (sent_ == unsent_.size()) {
        std::string().swap(unsent_);
    }
}

bool Worker::fit_for_more() const {
    return process_ >= 0 && grown_bytes() < (limits_.memory_mib << 20U) / 2;
}

std::size_t Worker::grown_bytes() const {
    const std::size_t now = memory_of(process_).resident_bytes;
    return now - std::min(now, bytes_at_start_);
}

Worker::Received Worker::receive_into(char* to, std::size_t most, std::size_t& got) const {
    const ssize_t count = recv(pipe_, to, most, 0);
    if (count > 0) {
        got = static_cast<std::size_t>(count);
        return Received::something;
    }
    const bool later = count < 0 && (errno == EAGAIN || errno == EWOULDBLOCK || errno == EINTR);
    return later ? Received::nothing_yet : Received::end;
}

Worker::Received Worker::receive_head() {
    std::size_t got = 0;
    const Received received = receive_into(&head_[head_received_], head_.size() - head_received_, got);
    head_received_ += got;
    return received;
}

Worker::Received Worker::receive_bytes() {
    static std::array<char, 1U << 18U> block;
    std::size_t got = 0;
    const auto most = std::min<std::uint64_t>(block.size(), answer_length() - bytes_.size());
    const Received received = receive_into(block.data(), most, got);
    bytes_.append(block.data(), got);
    return received;
}

std::uint64_t Worker::answer_length() const {
    AnswerLength length = 0;
    std::memcpy(&length, &head_[1], sizeof length);
    return length;
}

std::optional<Outcome> Worker::receive() {
    constexpr int most_blocks = 64;  // then the others and the stop question have their turn
    for (int block = 0; block < most_blocks; ++block) {
        const Received received = head_received_ < head_.size() ? receive_head() : receive_bytes();
        if (received == Received::end) {
            return outcome_of_death();
        }
        if (auto outcome = answer_if_whole()) {
            return outcome;
        }
        if (received == Received::nothing_yet) {
            break;
        }
    }
    return std::nullopt;
}

std::optional<Outcome> Worker::answer_if_whole() {
    if (head_received_ < head_.size()) {
        return std::nullopt;
    }
    const auto kind = static_cast<AnswerKind>(head_[0]);
    const bool known =
        kind == AnswerKind::done || kind == AnswerKind::failed || kind == AnswerKind::out_of_memory;
    const bool too_early = has_more_to_send();
    if (!known || too_early || answer_length() > 2 * (limits_.memory_mib << 20U)) {
        return ended_by_us(Outcome::End::died, "the reading went wrong (its answer makes no sense)");
    }
    if (bytes_.size() < answer_length()) {
        return std::nullopt;
    }
    busy_ = false;
    switch (kind) {
        case AnswerKind::done:
            return Outcome{Outcome::End::done, std::move(bytes_), {}};
        case AnswerKind::failed:
            return Outcome{Outcome::End::failed, {}, std::move(bytes_)};
        case AnswerKind::out_of_memory:
            break;
    }
    return ended_by_us(
        Outcome::End::grew,
        fmt::format("the reading needed more memory than the {} MiB it may have", limits_.memory_mib));
}

// The pipe is closed: mostly because the process is dying, so it is given a moment to tell how.
Outcome Worker::outcome_of_death() {
    int wait_status = 0;
    if (!reaped_within(process_, std::chrono::milliseconds(500), wait_status)) {
        return ended_by_us(Outcome::End::died,
                           "the reading went wrong (it cut its connection to the program)");
    }
    process_ = -1;
    busy_ = false;
    return {Outcome::End::died, {}, how_it_ended(wait_status)};
}

Outcome Worker::ended_by_us(Outcome::End end, std::string note) {
    kill_and_reap();
    busy_ = false;
    return {end, {}, std::move(note)};
}

std::optional<Outcome> Worker::end_if_over_time() {
    if (!busy_ || Clock::now() < deadline_) {
        return std::nullopt;
    }
    return ended_by_us(Outcome::End::overran,
                       fmt::format("the reading took longer than the {:g} s it may take", limits_.seconds));
}

std::optional<Outcome> Worker::end_if_over_memory() {
    if (!busy_ || grown_bytes() <= (limits_.memory_mib << 20U) + job_length_) {
        return std::nullopt;
    }
    return ended_by_us(
        Outcome::End::grew,
        fmt::format("the reading needed more memory than the {} MiB it may have", limits_.memory_mib));
}

}  // namespace stripbook::photo
