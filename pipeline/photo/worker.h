// One worker process as the pool sees it: started, given jobs, watched, ended.
#pragma once

#include <sys/types.h>

#include <array>
#include <chrono>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "photo/worker_message.h"
#include "photo/worker_pool.h"

namespace stripbook::photo {

class Worker {
  public:
    using Clock = std::chrono::steady_clock;

    /// Forks. `work` must outlive the worker. OutsideError when the system gives no process or pipe.
    Worker(const Work& work, const WorkerLimits& limits);
    /// Kills the process if it still runs, and reaps it.
    ~Worker();
    Worker(const Worker&) = delete;
    Worker& operator=(const Worker&) = delete;

    /// Gives it the next job, by its number and what it says, and takes it out of `job`; what the pipe has no
    /// room for yet goes out with `send_more`. False when the process is gone: `job` is then as it was. A
    /// worker that cannot be replaced may be asked for the outcome all the same (`receive` then says that it
    /// died).
    bool begin(std::size_t number, std::string& job);

    [[nodiscard]] bool busy() const { return busy_; }
    [[nodiscard]] std::size_t job() const { return job_; }
    [[nodiscard]] int pipe() const { return pipe_; }
    /// False when it must not be given another job: its process was ended, or holds on to too much memory.
    [[nodiscard]] bool fit_for_more() const;

    /// Whether part of its job is still to be sent; and sends what the pipe has room for, without waiting. (A
    /// worker may be slow to take a long job, on a machine short of time or memory.)
    [[nodiscard]] bool has_more_to_send() const { return !unsent_.empty(); }
    void send_more();
    /// When the pipe has something to say: takes what is there, and gives the outcome if the job has ended by
    /// it.
    std::optional<Outcome> receive();
    /// Ends the process and gives the outcome when the job is over its time or memory.
    std::optional<Outcome> end_if_over_time();
    std::optional<Outcome> end_if_over_memory();
    /// Time the parent spent elsewhere is not the worker's.
    void allow(Clock::duration more) { deadline_ += more; }

  private:
    enum class Received { something, nothing_yet, end };
    Received receive_into(char* to, std::size_t most, std::size_t& got) const;
    Received receive_head();
    Received receive_bytes();
    [[nodiscard]] std::uint64_t answer_length() const;
    std::optional<Outcome> answer_if_whole();
    Outcome outcome_of_death();
    Outcome ended_by_us(Outcome::End end, std::string note);
    [[nodiscard]] std::size_t grown_bytes() const;
    void kill_and_reap();

    const WorkerLimits limits_;
    int pipe_ = -1;
    pid_t process_ = -1;
    std::size_t bytes_at_start_ = 0;
    bool busy_ = false;
    std::size_t job_ = 0;
    std::size_t job_length_ = 0;  // the worker holds the job too, which is not its reading's doing
    Clock::time_point deadline_;
    std::string unsent_;    // the job, until all of it is sent
    std::size_t sent_ = 0;  // of it
    // Of the answer under way:
    std::array<char, answer_head_bytes> head_{};
    std::size_t head_received_ = 0;
    std::string bytes_;
};

}  // namespace stripbook::photo
