// The inside of a worker process.
#pragma once

#include <string>
#include <vector>

#include "photo/worker_pool.h"

namespace stripbook::photo {

/// Runs in the forked child and never returns: cuts the process off from the terminal, from the parent's
/// files and from its signal handlers, then answers jobs from `pipe` until the parent closes it. All signals
/// are blocked on entry.
[[noreturn]] void be_a_worker(int pipe, int parent_process, const Work& work, const WorkerLimits& limits);

}  // namespace stripbook::photo
