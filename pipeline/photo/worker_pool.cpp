#include "photo/worker_pool.h"

#include <poll.h>

#include <algorithm>
#include <chrono>
#include <memory>
#include <optional>
#include <utility>

#include "errors.h"
#include "photo/worker.h"

namespace stripbook::photo {

namespace {

constexpr std::chrono::milliseconds between_questions{50};  // to `stop`, and of the workers' limits

class Pool {
  public:
    Pool(const Work& work, const std::vector<std::string>& jobs, const WorkerLimits& limits)
        : work_(work),
          jobs_(jobs),
          limits_(limits),
          workers_(std::min(jobs.size(), static_cast<std::size_t>(std::max(1, limits.workers)))) {}

    void run(const WhenDone& when_done, const std::function<bool()>& stop) {
        std::size_t reported = 0;
        while (reported < jobs_.size()) {
            if (stop && stop()) {
                throw Stopped("stopped; what was finished is kept, run the command again to go on");
            }
            hand_out_jobs();
            wait_for_answers();
            end_what_is_over_a_limit();
            hand_out_jobs();
            reported += report(when_done);
        }
    }

  private:
    struct Ended {
        std::size_t job;
        Outcome outcome;
    };

    void hand_out_jobs() {
        for (auto& worker : workers_) {
            if (next_job_ == jobs_.size()) {
                return;
            }
            if (worker && worker->busy()) {
                continue;
            }
            const bool usable = worker && worker->fit_for_more() && worker->begin(next_job_);
            if (!usable && !replace(worker)) {
                continue;
            }
            if (!usable) {
                worker->begin(next_job_);
            }
            ++next_job_;
        }
    }

    // False when no new one can be started but others still run: they go on with what there is.
    bool replace(std::unique_ptr<Worker>& worker) {
        worker.reset();
        try {
            worker = std::make_unique<Worker>(work_, jobs_, limits_);
            return true;
        } catch (const OutsideError&) {
            if (std::none_of(workers_.begin(), workers_.end(),
                             [](const auto& w) { return w && w->busy(); })) {
                throw;
            }
            return false;
        }
    }

    void wait_for_answers() {
        std::vector<pollfd> pipes;
        std::vector<Worker*> busy;
        for (const auto& worker : workers_) {
            if (worker && worker->busy()) {
                pipes.push_back({worker->pipe(), POLLIN, 0});
                busy.push_back(worker.get());
            }
        }
        if (poll(pipes.data(), pipes.size(), static_cast<int>(between_questions.count())) <= 0) {
            return;
        }
        for (std::size_t i = 0; i < busy.size(); ++i) {
            if (pipes[i].revents != 0) {
                note_end(*busy[i], busy[i]->receive());
            }
        }
    }

    void end_what_is_over_a_limit() {
        const auto now = Worker::Clock::now();
        if (now - limits_asked_ < between_questions) {
            return;
        }
        limits_asked_ = now;
        for (const auto& worker : workers_) {
            if (worker && worker->busy()) {
                note_end(*worker, worker->end_if_over_time());
                note_end(*worker, worker->end_if_over_memory());
            }
        }
    }

    void note_end(const Worker& worker, std::optional<Outcome> outcome) {
        if (outcome) {
            ended_.push_back({worker.job(), std::move(*outcome)});
        }
    }

    std::size_t report(const WhenDone& when_done) {
        const auto before = Worker::Clock::now();
        const std::vector<Ended> ended = std::exchange(ended_, {});
        for (const auto& [job, outcome] : ended) {
            when_done(job, outcome);
        }
        for (const auto& worker : workers_) {
            if (worker) {
                worker->allow(Worker::Clock::now() - before);
            }
        }
        return ended.size();
    }

    const Work& work_;
    const std::vector<std::string>& jobs_;
    const WorkerLimits limits_;
    std::vector<std::unique_ptr<Worker>> workers_;
    std::size_t next_job_ = 0;
    std::vector<Ended> ended_;
    Worker::Clock::time_point limits_asked_;
};

}  // namespace

void run_in_workers(const Work& work, const std::vector<std::string>& jobs, const WorkerLimits& limits,
                    const WhenDone& when_done, const std::function<bool()>& stop) {
    Pool(work, jobs, limits).run(when_done, stop);
}

}  // namespace stripbook::photo
