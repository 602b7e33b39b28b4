// One run of the reading station over photos of the book, in worker processes.
#pragma once

#include <functional>
#include <vector>

#include "book/book.h"
#include "book/records.h"
#include "day/read_day.h"
#include "day/read_photo.h"

namespace stripbook::day {

/// Called for each photo as it is read. `came_back`: the worker answered; else the reading only says why not.
using WhenRead = std::function<void(const book::Photo& photo, const PhotoReading& reading, bool came_back)>;

/// Throws Stopped.
void read_in_workers(const book::Book& book, const std::vector<book::Photo>& photos,
                     const ReadOptions& options, const WhenRead& when_read);

/// Writes facts and sightings, together, and a video's poster.
void keep_reading(book::Book& book, const book::Photo& photo, const PhotoReading& reading);

}  // namespace stripbook::day
