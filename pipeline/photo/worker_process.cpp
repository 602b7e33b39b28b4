#include "photo/worker_process.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <malloc.h>
#include <sys/prctl.h>
#include <sys/resource.h>
#include <sys/socket.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <climits>
#include <csignal>
#include <cstring>
#include <new>
#include <opencv2/core.hpp>
#include <stdexcept>

#include "errors.h"
#include "photo/one_line.h"
#include "photo/process_memory.h"
#include "photo/worker_message.h"

namespace stripbook::photo {

namespace {

// AddressSanitizer reserves terabytes of address space, so there only the parent's watch holds the memory
// limit.
#ifdef __SANITIZE_ADDRESS__
constexpr bool address_space_can_be_limited = false;
#else
constexpr bool address_space_can_be_limited = true;
#endif

// The parent dies: so do we, even in the middle of a job.
void end_with(int parent_process) {
    prctl(PR_SET_PDEATHSIG, SIGKILL);
    if (getppid() != parent_process) {
        _exit(0);
    }
}

// The handlers are the parent's and would run its code here. Ctrl-C reaches every process of the terminal: it
// is for the parent, which then ends us.
void leave_the_parents_signals() {
    for (int signal_number = 1; signal_number < NSIG; ++signal_number) {
        std::signal(signal_number, SIG_DFL);
    }
    std::signal(SIGINT, SIG_IGN);
    sigset_t none;
    sigemptyset(&none);
    sigprocmask(SIG_SETMASK, &none, nullptr);
}

// Libraries' messages go nowhere, and strangers' bytes cannot reach the book through a file the parent holds
// open. Returns the pipe, which keeps clear of 0..2 even when the parent was started with those closed.
int keep_only(int pipe) {
    const int kept = fcntl(pipe, F_DUPFD_CLOEXEC, STDERR_FILENO + 1);
    const int nowhere = open("/dev/null", O_RDWR);
    for (const int standard : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO}) {
        if (nowhere < 0 || dup2(nowhere, standard) < 0) {
            close(standard);
        }
    }
    if (kept > STDERR_FILENO + 1) {
        close_range(STDERR_FILENO + 1, static_cast<unsigned>(kept) - 1, 0);
    }
    close_range(static_cast<unsigned>(kept) + 1, UINT_MAX, 0);
    return kept;
}

// No core files: a crash is an expected end here.
void leave_no_core() {
    const rlimit no_core{0, 0};
    setrlimit(RLIMIT_CORE, &no_core);
}

// The parent watches resident memory, but only now and then; this is the wall behind it, twice as far away so
// that the watch speaks first and a library's refused allocation is rare. The job itself is not charged.
class MemoryWall {
  public:
    explicit MemoryWall(const WorkerLimits& limits)
        : without_job_(memory_of(getpid()).address_space_bytes + 2 * (limits.memory_mib << 20U)) {}

    void leave_room_for_job(std::size_t job_bytes) const {
        if (address_space_can_be_limited) {
            rlimit address_space{};
            getrlimit(RLIMIT_AS, &address_space);
            address_space.rlim_cur = std::min(without_job_ + job_bytes, address_space.rlim_max);
            setrlimit(RLIMIT_AS, &address_space);
        }
    }

  private:
    rlim_t without_job_;
};

bool receive_all(int pipe, void* bytes, std::size_t length) {
    auto* to = static_cast<char*>(bytes);
    while (length > 0) {
        const ssize_t got = recv(pipe, to, length, 0);
        if (got <= 0) {
            if (got < 0 && errno == EINTR) {
                continue;
            }
            return false;
        }
        to += got;
        length -= static_cast<std::size_t>(got);
    }
    return true;
}

bool receive_job(int pipe, const MemoryWall& wall, std::string& job) {
    JobLength length = 0;
    if (!receive_all(pipe, &length, sizeof length)) {
        return false;
    }
    wall.leave_room_for_job(length);
    job.resize(length);
    return receive_all(pipe, job.data(), job.size());
}

bool send_all(int pipe, const char* bytes, std::size_t length) {
    while (length > 0) {
        const ssize_t sent = send(pipe, bytes, length, MSG_NOSIGNAL);
        if (sent < 0) {
            if (errno == EINTR) {
                continue;
            }
            return false;
        }
        bytes += sent;
        length -= static_cast<std::size_t>(sent);
    }
    return true;
}

struct Answer {
    AnswerKind kind = AnswerKind::done;
    std::string bytes;
};

Answer answer_to(const Work& work, const std::string& job) {
    try {
        return {AnswerKind::done, work(job)};
    } catch (const Error& error) {
        return {AnswerKind::failed, one_line(error.what())};
    } catch (const std::bad_alloc&) {
        return {AnswerKind::out_of_memory, {}};
    } catch (const cv::Exception& exception) {
        if (exception.code == cv::Error::StsNoMem) {
            return {AnswerKind::out_of_memory, {}};
        }
        return {AnswerKind::failed, "unexpected failure in the picture library: " + one_line(exception.err)};
    } catch (const std::exception& exception) {
        return {AnswerKind::failed, "unexpected failure: " + one_line(exception.what())};
    } catch (...) {
        return {AnswerKind::failed, "unexpected failure of an unknown kind"};
    }
}

bool send_answer(int pipe, const Answer& answer) {
    std::array<char, answer_head_bytes> head{};
    head[0] = static_cast<char>(answer.kind);
    const AnswerLength length = answer.bytes.size();
    std::memcpy(&head[1], &length, sizeof length);
    return send_all(pipe, head.data(), head.size()) &&
           send_all(pipe, answer.bytes.data(), answer.bytes.size());
}

}  // namespace

void be_a_worker(int pipe, int parent_process, const Work& work, const WorkerLimits& limits) {
    end_with(parent_process);
    const int kept_pipe = keep_only(pipe);
    leave_the_parents_signals();
    leave_no_core();
    const MemoryWall wall(limits);
    cv::setNumThreads(1);
    std::string job;
    while (receive_job(kept_pipe, wall, job) && send_answer(kept_pipe, answer_to(work, job))) {
        std::string().swap(job);
        malloc_trim(0);  // so that the next job is not charged for what this one freed
    }
    _exit(0);
}

}  // namespace stripbook::photo
