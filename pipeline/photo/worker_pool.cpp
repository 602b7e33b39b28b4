#include "photo/worker_pool.h"

#include <poll.h>

#include <algorithm>
#include <chrono>
#include <deque>
#include <memory>
#include <optional>
#include <utility>

#include "errors.h"
#include "photo/worker.h"

namespace stripbook::photo {

namespace {

constexpr std::chrono::milliseconds between_questions{50};  // to `stop`, and of the workers' limits

}  // namespace

class WorkerPool::Inside {
  public:
    Inside(Work work, const WorkerLimits& limits)
        : work_(std::move(work)),
          limits_(limits),
          most_(static_cast<std::size_t>(std::max(1, limits.workers))) {}

    void add(std::string job) {
        waiting_.push_back(std::move(job));
        if (workers_.size() < std::min(most_, waiting_.size() + busy_workers())) {
            workers_.emplace_back();
        }
    }

    void turn(const WhenDone& when_done, std::chrono::milliseconds wait) {
        give_back_time();
        hand_out_jobs();
        wait_for_workers(wait);
        end_what_is_over_a_limit();
        hand_out_jobs();
        left_ = Worker::Clock::now();
        report(when_done);
    }

    [[nodiscard]] bool all_told() const { return waiting_.empty() && ended_.empty() && busy_workers() == 0; }

  private:
    struct Ended {
        std::size_t job;
        Outcome outcome;
    };

    [[nodiscard]] std::size_t busy_workers() const {
        return static_cast<std::size_t>(
            std::count_if(workers_.begin(), workers_.end(), [](const auto& w) { return w && w->busy(); }));
    }

    void hand_out_jobs() {
        for (auto& worker : workers_) {
            if (waiting_.empty()) {
                return;
            }
            if (worker && worker->busy()) {
                continue;
            }
            const bool usable =
                worker && worker->fit_for_more() && worker->begin(next_job_, waiting_.front());
            if (!usable && !replace(worker)) {
                continue;
            }
            if (!usable) {
                worker->begin(next_job_, waiting_.front());
            }
            waiting_.pop_front();
            ++next_job_;
        }
    }

    // False when no new one can be started but others still run: they go on with what there is.
    bool replace(std::unique_ptr<Worker>& worker) {
        worker.reset();
        try {
            worker = std::make_unique<Worker>(work_, limits_);
            return true;
        } catch (const OutsideError&) {
            if (busy_workers() == 0) {
                throw;
            }
            return false;
        }
    }

    void wait_for_workers(std::chrono::milliseconds wait) {
        std::vector<pollfd> pipes;
        std::vector<Worker*> busy;
        for (const auto& worker : workers_) {
            if (worker && worker->busy()) {
                const int room_too = worker->has_more_to_send() ? POLLOUT : 0;
                pipes.push_back({worker->pipe(), static_cast<short>(POLLIN | room_too), 0});
                busy.push_back(worker.get());
            }
        }
        if (busy.empty() || poll(pipes.data(), pipes.size(), static_cast<int>(wait.count())) <= 0) {
            return;
        }
        for (std::size_t i = 0; i < busy.size(); ++i) {
            if ((pipes[i].revents & POLLOUT) != 0) {
                busy[i]->send_more();
            }
            if ((pipes[i].revents & ~POLLOUT) != 0) {
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

    // The time since the last turn, which the caller spent elsewhere.
    void give_back_time() {
        const auto now = Worker::Clock::now();
        for (const auto& worker : workers_) {
            if (worker && worker->busy()) {
                worker->allow(now - left_);
            }
        }
    }

    void report(const WhenDone& when_done) {
        const std::vector<Ended> ended = std::exchange(ended_, {});
        for (const auto& [job, outcome] : ended) {
            when_done(job, outcome);
        }
    }

    const Work work_;
    const WorkerLimits limits_;
    const std::size_t most_;
    std::vector<std::unique_ptr<Worker>> workers_;
    std::deque<std::string> waiting_;  // jobs that no worker has
    std::size_t next_job_ = 0;
    std::vector<Ended> ended_;
    Worker::Clock::time_point limits_asked_;
    Worker::Clock::time_point left_ = Worker::Clock::now();
};

WorkerPool::WorkerPool(Work work, const WorkerLimits& limits)
    : inside_(std::make_unique<Inside>(std::move(work), limits)) {}

WorkerPool::~WorkerPool() = default;

void WorkerPool::add(std::string job) {
    inside_->add(std::move(job));
}

void WorkerPool::turn(const WhenDone& when_done, std::chrono::milliseconds wait) {
    inside_->turn(when_done, wait);
}

bool WorkerPool::all_told() const {
    return inside_->all_told();
}

void run_in_workers(const Work& work, const std::vector<std::string>& jobs, const WorkerLimits& limits,
                    const WhenDone& when_done, const std::function<bool()>& stop) {
    WorkerPool pool(work, limits);
    for (const auto& job : jobs) {
        pool.add(job);
    }
    while (!pool.all_told()) {
        if (stop && stop()) {
            throw Stopped("stopped; what was finished is kept, run the command again to go on");
        }
        pool.turn(when_done, between_questions);
    }
}

}  // namespace stripbook::photo
