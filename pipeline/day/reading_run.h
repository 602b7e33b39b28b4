// One run of the reading station over photos of the book, in worker processes.
#pragma once

#include <cstddef>
#include <functional>
#include <vector>

#include "book/book.h"
#include "book/records.h"
#include "day/read_day.h"
#include "day/read_photo.h"

namespace stripbook::day {

/// Called for each photo as it is read. `came_back`: the worker answered; else the reading only says why not.
using WhenRead = std::function<void(const book::Photo& photo, const PhotoReading& reading, bool came_back)>;

/// Reads photos as they are given to it, while the caller goes on with other things: a dump copies the next
/// file.
class ReadingRun {
  public:
    /// `book` must outlive the run. The workers look for what the book's parts wear now.
    ReadingRun(const book::Book& book, const ReadOptions& options, WhenRead when_read);

    /// The photo's file must be in its place.
    void add(const book::Photo& photo);
    /// Tells of what has been read, without waiting.
    void go_on();
    /// Waits until everything is read, and shows progress. Throws Stopped.
    void finish();

    [[nodiscard]] std::size_t added() const { return photos_.size(); }

  private:
    void take(std::size_t index, const photo::Outcome& outcome);

    const book::Book& book_;
    const ReadOptions options_;
    const WhenRead when_read_;
    const Expected expected_;
    std::vector<book::Photo> photos_;
    std::size_t done_ = 0;
    photo::WorkerPool pool_;
};

/// All of them. Throws Stopped.
void read_in_workers(const book::Book& book, const std::vector<book::Photo>& photos,
                     const ReadOptions& options, const WhenRead& when_read);

/// Writes facts and sightings, together, and a video's poster.
void keep_reading(book::Book& book, const book::Photo& photo, const PhotoReading& reading);

}  // namespace stripbook::day
