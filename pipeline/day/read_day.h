// After copying: reads every photo that was not read yet, in worker processes, and works out the links anew.
#pragma once

#include <cstddef>
#include <functional>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/records.h"
#include "day/read_photo.h"
#include "photo/worker_pool.h"

namespace stripbook::day {

struct ReadProgress {
    std::size_t done = 0;
    std::size_t all = 0;
};

struct ReadOptions {
    photo::WorkerLimits limits;
    photo::Work work = answer_to;  ///< what the workers run; a test may put a work that fails in its place
    std::function<void(const ReadProgress&)> progress;
    std::function<bool()> stop;
};

/// Reads what is unread. Each photo's facts and sightings are kept as soon as they are known, so a stop loses
/// nothing. A photo whose worker died or overran is kept as damaged, with why. Returns how many were read.
/// Throws Stopped.
std::size_t read_unread_photos(book::Book& book, const ReadOptions& options);

struct LinkOutcome {
    std::vector<number::TagNumber> new_parts;
    int other_book_tags = 0;
};

/// Works out all links of the book anew from its sightings and the person's words; makes part records for new
/// numbers.
LinkOutcome link_all(book::Book& book);

}  // namespace stripbook::day
