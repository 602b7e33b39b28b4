// The reading station for videos. Runs in a worker process.
#pragma once

#include <string>
#include <vector>

#include "book/records.h"
#include "day/read_photo.h"

namespace stripbook::day {

/// What was seen in a sampled frame of a video.
struct FrameSightings {
    double at_s = 0;
    std::vector<book::Sighting> sightings;
};

/// Of the frames of one video, in the order of time: each confirmed tag and each other code once, from the
/// first frame that shows it. A tag that is not confirmed counts, once, when no frame confirms any; or else
/// when it may be a number that no frame confirms: moving pictures are full of half-seen tags. Stage cards
/// and scale markers do not count: measuring and stages are matters of photos.
std::vector<book::Sighting> sightings_of_video(const std::vector<FrameSightings>& frames);

/// Reads the first seconds of a video and makes its poster (long side at most 1600 px). Never throws on bad
/// data. Sightings are in the frame of photo/video.h; `how` ends in ", at 1.5 s".
PhotoReading read_video(const std::string& path, const Expected& expected);

}  // namespace stripbook::day
