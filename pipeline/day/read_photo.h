// The reading station: one image file to facts and sightings. Runs in a worker process; the answer crosses a
// pipe as text.
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
};

/// Reads one photo. Never throws on bad data: a damaged file is a fact. `here` is the book whose tags are
/// expected.
PhotoReading read_photo(std::string_view file_bytes, const number::BookCode& here);

/// For the workers: a job names the file; the answer is the reading as JSON text. answer_to throws
/// OutsideError when the file cannot be read.
std::string job_for(const std::string& path, const number::BookCode& here);
std::string answer_to(const std::string& job);
std::string to_answer(const PhotoReading& reading);
/// Throws nlohmann::json::exception on text that is no answer.
PhotoReading reading_from_answer(const std::string& answer);

}  // namespace stripbook::day
