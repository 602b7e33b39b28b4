// Worker processes for everything that touches strangers' bytes (image decoding, code reading): a job that
// crashes, hangs or eats memory costs that job, not the run. The pool forks; the parent must have no other
// threads.
#pragma once

#include <chrono>
#include <cstddef>
#include <functional>
#include <memory>
#include <string>
#include <vector>

namespace stripbook::photo {

struct WorkerLimits {
    int workers = 2;      ///< processes at once; they are started as jobs need them, never more than jobs
    double seconds = 60;  ///< wall time a job may take
    std::size_t memory_mib =
        1536;  ///< resident memory a worker may hold on top of what it shares with the parent
};

/// How a job ended.
struct Outcome {
    enum class End {
        done,     ///< `bytes` is what the work returned
        failed,   ///< the work threw; `note` is its message
        died,     ///< the worker was ended by a signal or exited; `note` says which
        overran,  ///< over the time limit
        grew,     ///< over the memory limit, or the work ran out of memory (std::bad_alloc)
    };
    End end = End::done;
    std::string bytes;
    std::string note;  ///< one line in plain words; empty when done
};

/// What the workers run: bytes in, bytes out. An Error it throws becomes Outcome::failed with its message;
/// any other exception (a fault of ours or of a library) likewise, and the note says so. It runs in a forked
/// process with no open file but the pool's own pipe, and must not count on anything it changes outliving the
/// job.
using Work = std::function<std::string(const std::string& job)>;

/// Called in the parent, once a job, in the order in which jobs end. Workers go on while it runs; its time is
/// not counted against theirs.
using WhenDone = std::function<void(std::size_t index, const Outcome& outcome)>;

/// Worker processes that take jobs as they come, so that the caller can go on with other things between
/// turns.
class WorkerPool {
  public:
    WorkerPool(Work work, const WorkerLimits& limits);
    /// Ends the workers, whatever they are at.
    ~WorkerPool();
    WorkerPool(const WorkerPool&) = delete;
    WorkerPool& operator=(const WorkerPool&) = delete;

    /// Takes a job; the next turn hands it out. Jobs are numbered from 0 in the order of adding.
    void add(std::string job);
    /// Hands jobs to free workers, waits at most `wait` for one to end, ends those over a limit and tells
    /// `when_done` of all that have ended since the last turn. Time between turns is not counted against the
    /// workers. Whatever `when_done` throws comes out. OutsideError when no worker process can be started.
    void turn(const WhenDone& when_done, std::chrono::milliseconds wait);
    /// Whether every job that was added has ended and been told of.
    [[nodiscard]] bool all_told() const;

  private:
    class Inside;
    std::unique_ptr<Inside> inside_;
};

/// Runs `work` on every job in worker processes and returns when all have ended. `stop` is asked between
/// events (at least ten times a second); when it says true the workers are ended and Stopped is thrown.
/// Whatever `when_done` or `stop` throws comes out after all workers were ended. A worker writes nothing to
/// the terminal: libraries' own messages go to /dev/null. OutsideError when no worker process can be started.
void run_in_workers(const Work& work, const std::vector<std::string>& jobs, const WorkerLimits& limits,
                    const WhenDone& when_done, const std::function<bool()>& stop = {});

}  // namespace stripbook::photo
