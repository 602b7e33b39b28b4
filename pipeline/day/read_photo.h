// The reading station: one image file to facts and sightings (read_video.h: one video). Runs in a worker
// process; the answer crosses a pipe as text.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "book/records.h"
#include "number/tag_number.h"

namespace stripbook::day {

struct PhotoReading {
    book::PhotoFacts facts;
    std::vector<book::Sighting> sightings;
    std::string poster;     ///< of a video that shows anything: a JPEG; else empty
    std::string signature;  ///< how a photo looks (photo/signature.h); of a video empty
};

/// What the reading is to look for besides what every photo is read for.
struct Expected {
    number::BookCode here;                  ///< the book whose tags are expected
    std::vector<std::string> other_tags{};  ///< texts of other makers' tags that the book's parts wear
};

/// Reads one photo. Never throws on bad data: a damaged file is a fact. Data Matrix and Code 128 are looked
/// for only where the book has other makers' tags: looking costs more than all the rest of the reading (150
/// ms of an 8 MP photo), and a code that no part wears helps nobody.
PhotoReading read_photo(std::string_view file_bytes, const Expected& expected);

/// For the workers: a job names the file; the answer is the reading as one line of JSON text, and behind it
/// the poster's bytes. answer_to throws OutsideError when the file cannot be read.
std::string job_for(const std::string& path, book::FileKind kind, const Expected& expected);
std::string answer_to(const std::string& job);
std::string to_answer(const PhotoReading& reading);
/// Throws nlohmann::json::exception on text that is no answer.
PhotoReading reading_from_answer(const std::string& answer);

}  // namespace stripbook::day
